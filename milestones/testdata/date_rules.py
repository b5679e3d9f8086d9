"""Answers date rules, one JSON object a line, with python-dateutil.

The second opinion of timing_dateutil_test.go: nothing here is taken from the
program that it checks.
"""

import json
import sys
from datetime import datetime, timedelta
from itertools import islice

from dateutil.relativedelta import relativedelta, weekday
from dateutil.rrule import DAILY, MO, TU, WE, TH, FR, rrule, rruleset


def business_days(start, n, sign, closed):
    reach = timedelta(days=2 * n + len(closed) + 10)
    first, last = (start, start + reach) if sign > 0 else (start - reach, start)
    days = rruleset()
    days.rrule(rrule(DAILY, dtstart=first, until=last, byweekday=(MO, TU, WE, TH, FR)))
    for day in [start, *closed]:  # the trigger day is not counted
        days.exdate(day)
    return next(islice(days, n - 1, None)) if sign > 0 else list(days)[-n]


def answer(rule):
    start = datetime.fromisoformat(rule["anchor"])
    sign = 1 if rule["after"] else -1
    if rule["unit"] == "business day":
        closed = [datetime.fromisoformat(day) for day in rule["closed"]]
        return business_days(start, rule["n"], sign, closed)
    if rule["unit"] == "weekday":
        return start + relativedelta(days=sign, weekday=weekday(rule["n"])(sign))
    return start + relativedelta(**{rule["unit"] + "s": sign * rule["n"]})


for line in sys.stdin:
    print(answer(json.loads(line)).date())
