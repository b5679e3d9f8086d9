// Prints days of other calendars, as node's ICU reckons them, one a line:
// what, and the Gregorian day. Arguments: the first and the last year.
const [first, last] = process.argv.slice(-2).map(Number);
const day = 24 * 60 * 60 * 1000;

// Each calendar with the days to print, by their month and day of it.
const wanted = {
  hebrew: {
    "Tishri 1": "Rosh Hashanah", "Tishri 10": "Yom Kippur", "Tishri 15": "Sukkot",
    "Nisan 15": "Passover", "Iyar 18": "Lag BaOmer", "Sivan 6": "Shavuot",
    "Tamuz 17": "17 Tammuz", "Av 9": "9 Av",
  },
  "islamic-civil": { "Ramadan 1": "Ramadan, tabular", "Shawwal 1": "Eid al-Fitr, tabular", "Dhuʻl-Hijjah 10": "Eid al-Adha, tabular" },
  "islamic-umalqura": { "Ramadan 1": "Ramadan, Umm al-Qura", "Shawwal 1": "Eid al-Fitr, Umm al-Qura", "Dhuʻl-Hijjah 10": "Eid al-Adha, Umm al-Qura" },
  chinese: { "Seventh Month 1": "Ghost Month", "Eighth Month 1": "eighth month", "Seventh Monthbis 1": "leap seventh month" },
};

for (const [calendar, days] of Object.entries(wanted)) {
  const format = new Intl.DateTimeFormat(`en-u-ca-${calendar}`, { month: "long", day: "numeric", timeZone: "UTC" });
  for (let t = Date.UTC(first, 0, 1); t < Date.UTC(last + 1, 0, 1); t += day) {
    if (calendar === "chinese" && !"JulAugSepOct".includes(new Date(t).toUTCString().slice(8, 11))) continue; // it is slow
    const parts = format.formatToParts(t);
    const part = (type) => parts.find((p) => p.type === type).value;
    const what = days[`${part("month")} ${part("day")}`];
    if (what) console.log(`${what}\t${new Date(t).toISOString().slice(0, 10)}`);
  }
}
