"""The quiz: questions about one airplane, with answers right and wrong worked out from its model.

Public: `quiz`, `quiz_question`.
"""
