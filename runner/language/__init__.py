"""What may be said and what it means: numbers, standard words, phrases in force.

Public: `breath`, `cardinal`, `catalogue`, `digit`, `force`, `likeness`, `meaning`, `number`, `spelling`,
`synonym`.
"""
