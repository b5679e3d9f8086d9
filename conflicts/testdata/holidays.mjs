// Prints the holidays that date-holidays knows, one a line: region, day, name.
// Arguments: the first and the last year, and regions.
const { default: Holidays } = await import("date-holidays").catch(() => process.exit(69));
const [first, last, ...regions] = process.argv.slice(1).filter((word) => word !== "--");
for (const region of regions) {
  const known = new Holidays(...region.split("-"));
  for (let year = Number(first); year <= Number(last); year++) {
    for (const h of known.getHolidays(year)) {
      if (h.type === "public" || h.type === "bank") console.log(`${region}\t${h.date.slice(0, 10)}\t${h.name}`);
    }
  }
}
