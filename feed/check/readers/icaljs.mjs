// Reads a calendar from standard input with ical.js and prints its events as
// JSON, in the normal form that the Go type Event describes.
import { readFileSync } from "node:fs";

const UNAVAILABLE = 69; // EX_UNAVAILABLE: Go takes it for check.ErrMissing

const { default: ICAL } = await import("ical.js").catch((err) => {
  console.error(err.message);
  process.exit(UNAVAILABLE);
});

const text = (component, name) => component.getFirstPropertyValue(name) ?? "";

function moment(component, name) {
  const property = component.getFirstProperty(name);
  if (!property) return "";
  const tzid = property.getParameter("tzid");
  return property.getFirstValue().toString() + (tzid ? `[${tzid}]` : "");
}

const calendar = new ICAL.Component(ICAL.parse(readFileSync(0, "utf8")));
const events = calendar.getAllSubcomponents("vevent").map((event) => ({
  UID: text(event, "uid"),
  Summary: text(event, "summary"),
  Description: text(event, "description"),
  Location: text(event, "location"),
  Status: text(event, "status"),
  Start: moment(event, "dtstart"),
  End: moment(event, "dtend"),
  AllDay: event.getFirstPropertyValue("dtstart")?.isDate ?? false,
}));
console.log(JSON.stringify(events));
