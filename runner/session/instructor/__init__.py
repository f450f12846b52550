"""The instructor beside a drill: what is true and what is seen, on a page of the local network.

Public: `instructor_link`, `instructor_order`, `instructor_state`, `page_address`, `page_app`, `page_server`.
"""
