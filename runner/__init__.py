"""eyesout: a voice-guided, hands-free runner of ground checks. The map is in DEVELOPERS.md."""
