"""Reads a calendar from standard input with Debian's python3-icalendar and
prints its events as JSON, in the normal form that the Go type Event describes.
Run it with -I: its own name would else hide the module it imports."""

import datetime
import json
import sys

UNAVAILABLE = 69  # EX_UNAVAILABLE: Go takes it for check.ErrMissing

try:
    import icalendar
except ImportError as err:
    print(err, file=sys.stderr)
    sys.exit(UNAVAILABLE)


def moment(event, name):
    if name not in event:
        return ""
    prop = event[name]
    value = prop.dt
    if not isinstance(value, datetime.datetime):
        return value.isoformat()
    clock = value.replace(tzinfo=None).isoformat()
    if "TZID" in prop.params:
        return f"{clock}[{prop.params['TZID']}]"
    return clock + ("Z" if value.tzinfo else "")


def is_date(event):
    return "DTSTART" in event and not isinstance(event["DTSTART"].dt, datetime.datetime)


def text(event, name):
    return str(event.get(name, ""))


calendar = icalendar.Calendar.from_ical(sys.stdin.buffer.read())
for component in calendar.walk():
    # The library passes over what it cannot read, and keeps a note of it.
    if component.errors:
        sys.exit(f"{component.name}: {component.errors}")

json.dump(
    [
        {
            "UID": text(event, "UID"),
            "Summary": text(event, "SUMMARY"),
            "Description": text(event, "DESCRIPTION"),
            "Location": text(event, "LOCATION"),
            "Status": text(event, "STATUS"),
            "Start": moment(event, "DTSTART"),
            "End": moment(event, "DTEND"),
            "AllDay": is_date(event),
        }
        for event in calendar.walk("VEVENT")
    ],
    sys.stdout,
)
