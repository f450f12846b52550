"""What every paper is made with: pages, sheets, marks, tables, scales.

Public: `csv_text`, `page_frame`, `page_svg`, `paper`, `paper_sheet`, `plotter`, `scale`, `stamp`, `svg`,
`text_table`.
"""
