"""The checks of a finished plan, one file each, named for the fault.

Makers read of each fault on the page of its code in site_templates/problems.
"""
