// The days of rules of repetition, as ical.js has them, a line for each rule.
// Arguments: the last day, and for each rule its first day and the rule.
const { default: ICAL } = await import("ical.js").catch(() => process.exit(69));
const [last, ...pairs] = process.argv.slice(1).filter((word) => word !== "--");
for (let i = 0; i < pairs.length; i += 2) {
  const first = ICAL.Time.fromString(pairs[i] + "T09:00:00");
  const days = [];
  const each = ICAL.Recur.fromString(pairs[i + 1]).iterator(first);
  for (let day; (day = each.next()) && day.toString().slice(0, 10) <= last; ) {
    const text = day.toString().slice(0, 10);
    if (text > pairs[i]) days.push(text);
  }
  console.log(days.join(" "));
}
