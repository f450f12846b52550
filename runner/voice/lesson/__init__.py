"""The lesson: what twenty phrases tell of one voice, microphone and room."""
