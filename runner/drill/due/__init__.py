"""What to practise next: what was practised, how much of it is forgotten, and what an instructor asks for.

Public: `due_list`, `forgetting`, `practice`, `practised`, `syllabus`.
"""
