"""Answers of a drill, judged by what the played airplane showed.

Public: `film`, `item_truth`, `judgement`.
"""
