"""The sound card: microphone, loudspeaker, their clock and their disappearance.

Public: `audio_clock`, `portaudio`, `sounddevice_microphone`, `sounddevice_speaker`, `stray`.
"""
