"""The site: plans and what was written of them become Markdown, and Markdown becomes HTML."""
