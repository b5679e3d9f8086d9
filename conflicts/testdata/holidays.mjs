// Prints the holidays that date-holidays knows, one a line: the day and its
// name. Arguments: a region, the first and the last year.
const { default: Holidays } = await import("date-holidays").catch(() => process.exit(69));
const [region, first, last] = process.argv.slice(-3);
const known = new Holidays(...region.split("-"));
for (let year = Number(first); year <= Number(last); year++) {
  for (const h of known.getHolidays(year)) {
    if (h.type === "public" || h.type === "bank") console.log(`${h.date.slice(0, 10)}\t${h.name}`);
  }
}
