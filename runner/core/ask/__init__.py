"""What is asked next, what is said, and what may be answered.

Public: `agenda`, `alert`, `flag`, `outlook`, `phrases_now`, `prompt`, `taken_answer`, `taken_back`,
`upcoming_prompts`.
"""
