"""The caution that stands under every report and every run."""

from typing import Final

STANDING_CAUTION: Final = (
    "Advisory only, for use on the ground: the approved flight manual, the placards and the pilot in "
    "command decide; local rules and licensed maintenance govern repairs and deferrals."
)
