"""`eyesout audit` in plain text and as plain data."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping
from typing import Final

from runner.airplane.model.airplane import Airplane
from runner.fault.fault import Fault
from runner.fault.fault_audit import FaultAudit
from runner.fault.pair import PairOutlook

WIDTH: Final = 96


def audit_text(title: str, airplane: Airplane, found: FaultAudit, pairs: tuple[PairOutlook, ...]) -> str:
    """The whole report, ready to print."""
    whole = len(found.noticed) + len(found.unnoticed)
    share = f"it notices {len(found.noticed)} ({found.share:.0%})"
    lines = [
        f"{title}, on {airplane.title}",
        f"of {whole} single failures that can be seen where it goes, {share}",
        "",
        *_block("IT WOULD NEVER NOTICE", map(str, found.unnoticed)),
        *_block(_cure(found), map(str, found.extra)),
        *_block("SHOWN ONLY IN OTHER POSITIONS OF THE SELECTOR", map(str, found.elsewhere)),
        *_block("SHOWN TO NOBODY ON THE GROUND", map(str, found.unseen)),
        "WHEN SOMETHING FAILS THAT NOBODY OVERLOOKS, ALONE AND WITH WHAT WENT UNNOTICED",
    ]
    lines += [line for each in pairs for line in _pair(each)]
    return "\n".join(lines) + "\n"


def audit_dict(
    title: str, airplane: Airplane, found: FaultAudit, pairs: tuple[PairOutlook, ...]
) -> Mapping[str, object]:
    """The report as plain data for JSON; minutes on the first battery."""
    return {
        "check": title,
        "airplane": airplane.name,
        "share_noticed": round(found.share, 4),
        "noticed": _plain(found.noticed),
        "unnoticed": _plain(found.unnoticed),
        "elsewhere": _plain(found.elsewhere),
        "unseen": _plain(found.unseen),
        "extra_looks": [
            {"position": look.position, "at": look.name, "sight": look.sight} for look in found.extra
        ],
        "extra_is_least": found.is_least,
        "pairs": [
            {
                "evident": each.evident,
                "hidden": None if each.hidden is None else str(each.hidden),
                "lost": list(each.lost),
                "seats_lose": {seat: list(senses) for seat, senses in each.seats},
                "fuller_seat": each.fuller,
                "minutes": None if each.minutes is None else round(each.minutes, 1),
            }
            for each in pairs
        ],
    }


def _plain(faults: Iterable[Fault]) -> list[Mapping[str, str]]:
    return [{"fault": each.kind, "name": each.name, "part": each.part} for each in faults]


def _cure(found: FaultAudit) -> str:
    least = "THE FEWEST LOOKS" if found.is_least else "LOOKS (PERHAPS NOT THE FEWEST)"
    return f"{least} THAT WOULD SHOW THEM"


def _block(title: str, words: Iterable[str]) -> Iterator[str]:
    yield title
    listed = list(words)
    for each in listed or ["nothing"]:
        yield from textwrap.wrap(each, WIDTH, initial_indent="- ", subsequent_indent="  ")
    yield ""


def _pair(each: PairOutlook) -> Iterator[str]:
    head = each.evident if each.hidden is None else f"  with {each.hidden}"
    minutes = "" if each.minutes is None else f"; {each.minutes:.0f} min of battery"
    lost = f"loses {', '.join(each.lost)}" if each.lost else "keeps what must be kept"
    seats = "; ".join(f"{seat} seat without {', '.join(senses)}" for seat, senses in each.seats if senses)
    fuller = f"; the {each.fuller} seat keeps more" if each.fuller else ""
    words = f"{head}: {lost}{'; ' if seats else ''}{seats}{fuller}{minutes}"
    yield from textwrap.wrap(words, WIDTH, subsequent_indent="      ")
