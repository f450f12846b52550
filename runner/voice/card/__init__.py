"""The sound card: microphone, loudspeaker, their clock and their disappearance."""
