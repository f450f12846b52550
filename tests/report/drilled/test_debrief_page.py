"""The debrief on a page and on paper: the word DRILL, another colour, and the same words on both."""

import re
from io import BytesIO

import pytest
from pypdf import PdfReader

from runner.core.plan import plan_on_ground
from runner.drill.debrief.debrief_words import debrief_blocks
from runner.drill.debrief.drill_debrief import DrillDebrief, DrillTape, debrief_of
from runner.drill.played.hidden import Hidden, HiddenKind
from runner.drill.story.drill_story import invent_story
from runner.report.draw.paper import PaperSize, pdf_of
from runner.report.drilled.debrief_page import debrief_page, debrief_sheet
from runner.report.origin import Maker
from tests.drill.player import START, careless
from tests.drill.sample import ON, drilled

MAKER = Maker("eyesout", START)


@pytest.fixture(scope="module")
def debrief() -> DrillDebrief:
    """Of a careless student whose name is no markup."""
    airplane, check = drilled(0)
    fault = Hidden(HiddenKind.BULB_OUT, "gear lamps", "nose")
    story = invent_story(check, airplane, ON, level=1, seed=3, faults=[fault])
    done = careless(story, check)
    tape = DrillTape(START, done.ended_at, done.entries, done.events)
    plan = plan_on_ground(check, airplane.selector.parked)
    return debrief_of(story, plan, tape, student="<b>Ann</b>")


def test_the_page_says_drill_in_its_own_colour_and_fetches_nothing(debrief: DrillDebrief) -> None:
    """In title, head and frame; the name is text."""
    page = debrief_page(debrief, MAKER)
    assert re.search("<title>DRILL, QQ-ML2", page)
    assert '<header class="head drill">' in page
    assert "#5a1f8a" in page
    assert "<b>Ann</b>" not in page
    assert "http" not in page.replace("http-equiv", "").replace("http://www.w3.org", "")


def test_page_and_paper_have_every_line(debrief: DrillDebrief) -> None:
    """All blocks, whole."""
    page = " ".join(debrief_page(debrief, MAKER).split())
    reader = PdfReader(BytesIO(pdf_of(debrief_sheet(debrief, MAKER), PaperSize.A4)))
    sheets = [" ".join(sheet.extract_text().split()) for sheet in reader.pages]
    for head, lines in debrief_blocks(debrief):
        for words in (head, *(" ".join(line.split()) for line in lines)):
            assert words in page
            assert words in " ".join(sheets)
    assert all("DRILL" in sheet for sheet in sheets)
