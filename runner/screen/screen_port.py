"""What a session asks of a screen, whether it fills the terminal or prints lines."""

from typing import Protocol

from runner.screen.view import View


class Screen(Protocol):
    """Shows views, hands intents to the callback it was made with."""

    def post_view(self, view: View) -> None:
        """Show this view from now on. May be called from any thread."""
        ...

    def run(self) -> object:
        """Read keys on this thread until the pilot leaves or the screen is closed."""
        ...

    def close(self) -> None:
        """End the screen. May be called from any thread."""
        ...
