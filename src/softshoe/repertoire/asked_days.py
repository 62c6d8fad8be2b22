"""Days as people say them: "in May", "since 2025", "last month", "on 3 May", as the first and the last day."""

from __future__ import annotations

import re
from calendar import monthrange
from datetime import date, timedelta

MONTHS = (
    "january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november",
    "december",
)  # fmt: skip
MONTH = "|".join(f"{name}|{name[:3]}" for name in MONTHS)
DAY = re.compile(
    rf"(?:(?P<iso>\d{{4}}-\d\d-\d\d)|(?P<ym>\d{{4}}-\d\d)|(?P<d>\d{{1,2}})(?:st|nd|rd|th)? (?P<dm>{MONTH})\b(?: "
    rf"(?P<dy>\d{{4}}))?"
    rf"|(?P<m>{MONTH})\b(?: (?P<my>\d{{4}}))?|(?P<y>\d{{4}})|(?P<last>last|this) (?P<span>week|month|year)"
    r"|(?P<one>today|yesterday))(?!\w)",
    re.IGNORECASE,
)
WORD = re.compile(r"\s*(?P<how>since|after|before|until|till|in|on|during|from)?\s*", re.IGNORECASE)


def days_of(words: str, *, today: date) -> tuple[str | None, str | None, str]:
    """Return the first and last day that the words begin with, None for no limit, and the words that are left.

    >>> days_of(" in May, seated", today=date(2026, 11, 28))
    ('2026-05-01', '2026-05-31', ', seated')
    >>> days_of(" since 2025", today=date(2026, 11, 28))
    ('2025-01-01', None, '')
    """
    how = WORD.match(words)
    start = how.end() if how else 0
    found = DAY.match(words, start)
    if found is None:
        return None, None, words
    span = _span(found, today)
    if span is None:
        return None, None, words
    first, last = span
    said = (how["how"] or "in").casefold() if how else "in"
    left = words[found.end() :]
    if said in ("since", "from"):
        return first.isoformat(), None, left
    if said == "after":
        return (last + timedelta(days=1)).isoformat(), None, left
    if said in ("before", "until", "till"):
        return None, (first - timedelta(days=1) if said == "before" else last).isoformat(), left
    return first.isoformat(), last.isoformat(), left


def _span(found: re.Match[str], today: date) -> tuple[date, date] | None:
    """The first and last day of what was said; None for a day that there is not."""
    try:
        if found["iso"]:
            day = date.fromisoformat(found["iso"])
            return day, day
        if found["ym"]:
            year, month = map(int, found["ym"].split("-"))
            return _month(year, month)
        if found["d"]:
            month = _named(found["dm"])
            day = date(_year(found["dy"], month, today), month, int(found["d"]))
            return day, day
        if found["m"]:
            month = _named(found["m"])
            return _month(_year(found["my"], month, today), month)
        if found["y"]:
            return date(int(found["y"]), 1, 1), date(int(found["y"]), 12, 31)
    except ValueError:
        return None
    if found["one"]:
        day = today - timedelta(days=found["one"].casefold() == "yesterday")
        return day, day
    return _lately(found["span"].casefold(), today, last=found["last"].casefold() == "last")


def _named(word: str) -> int:
    return next(k for k, name in enumerate(MONTHS, 1) if name.startswith(word.casefold()))


def _year(said: str | None, month: int, today: date) -> int:
    """The year that was said; else the last time that month was."""
    return int(said) if said else today.year - (month > today.month)


def _month(year: int, month: int) -> tuple[date, date]:
    return date(year, month, 1), date(year, month, monthrange(year, month)[1])


def _lately(span: str, today: date, *, last: bool) -> tuple[date, date]:
    """This or the last week (Monday to Sunday), month or year."""
    if span == "week":
        monday = today - timedelta(days=today.weekday() + 7 * last)
        return monday, monday + timedelta(days=6)
    if span == "year":
        return date(today.year - last, 1, 1), date(today.year - last, 12, 31)
    first = today.replace(day=1)
    if last:
        first = (first - timedelta(days=1)).replace(day=1)
    return _month(first.year, first.month)
