"""The days of rules of repetition, as python-dateutil has them, a line for
each rule. Arguments: the last day, and for each rule its first day and the
rule."""
import sys
from datetime import datetime

try:
    from dateutil.rrule import rrulestr
except ImportError:
    sys.exit(69)

last = datetime.fromisoformat(sys.argv[1] + "T23:59:59")
for start, rule in zip(sys.argv[2::2], sys.argv[3::2]):
    first = datetime.fromisoformat(start + "T09:00:00")
    print(*(f"{d:%Y-%m-%d}" for d in rrulestr(rule, dtstart=first).between(first, last)))
