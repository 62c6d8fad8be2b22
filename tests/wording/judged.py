"""How a reading is judged against a truth as the dance events tell it: what may differ, and what may not."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

HEADER = ("counts", "walls", "level", "seated", "metre", "tempo_bpm", "intro_counts", "start_weight")
PARTS = ("action", "dir", "weight", "turn", "facing")
RANK = ("note", "warning", "error")


def one_of(truth: dict[str, Any], answer: dict[str, Any], key: str) -> bool:
    return answer[key] in [truth[key], *truth.get(f"{key}_alt", [])]


def arms_agree(truth: list[dict[str, Any]], answer: list[dict[str, Any]]) -> bool:
    return len(truth) == len(answer) and all(
        (t["side"], t["gesture"]) == (a["side"], a["gesture"]) and one_of(t, a, "place")
        and (t["toward"] is None or t["toward"] == a["toward"])
        for t, a in zip(truth, answer, strict=True)
    )  # fmt: skip


def agree(truth: list[dict[str, Any]], answer: list[dict[str, Any]]) -> bool:
    def order(event: dict[str, Any]) -> tuple[Fraction, str]:
        return Fraction(event["t"]), str(event["foot"])

    if [order(e) for e in sorted(truth, key=order)] != [order(e) for e in sorted(answer, key=order)]:
        return False
    pairs = zip(sorted(truth, key=order), sorted(answer, key=order), strict=True)
    return all(all(one_of(t, a, p) for p in PARTS) and arms_agree(t["arms"], a["arms"]) for t, a in pairs)


def plain(title: str) -> str:
    return "".join(title.casefold().replace("’", "'").split())


def amiss(truth: dict[str, Any], answer: dict[str, Any]) -> list[str]:
    """Return what is not as the truth has it, in a word each; [] for a dance read exactly and without an error."""
    out = [] if agree(truth["events"], answer["events"]) else ["events"]
    out += [] if plain(answer["title"]) == plain(truth["title"]) else ["title"]
    out += [k for k in (*HEADER, "sections", "restarts") if answer[k] != truth[k]]
    for key in ("tags", "endings"):
        bare = [[{k: v for k, v in x.items() if k != "events"} for x in one[key]] for one in (truth, answer)]
        same = bare[0] == bare[1] and all(
            agree(t["events"], a["events"]) for t, a in zip(truth[key], answer[key], strict=True)
        )
        out += [] if same else [key]
    return out + [f"{f['kind']} on line {f['line']}" for f in answer["findings"] if f["severity"] == "error"]


def found(fault: dict[str, Any], findings: list[dict[str, Any]]) -> bool:
    """Return whether a slip is told: its kind, on its line or one beside it, at least as severely."""
    kinds = {fault["fault"], *fault["also_ok_faults"]}
    lines = {fault["line"] - 1, fault["line"], fault["line"] + 1, *fault["also_ok_lines"]} if fault["line"] else None
    return any(
        f["kind"] in kinds
        and (lines is None or f["line"] in lines)
        and RANK.index(f["severity"]) >= RANK.index(fault["severity"])
        for f in findings
    )
