"""What a plan is, for programs that read pages: a HowTo of schema.org as JSON-LD.

https://schema.org/HowTo: tools and supplies as text, which the type allows, and steps. Links are
from the page itself.
"""

import json

from generator.model.plan import Plan
from generator.telling.buying_tables import needed_tools


def describe_as_how_to(plan: Plan) -> str:
    """Return the JSON-LD of a plan, safe to stand inside a script element."""
    story = plan.edition.story
    data = {
        "@context": "https://schema.org",
        "@type": "HowTo",
        "name": story.title,
        "description": story.summary,
        "dateModified": story.date,
        "version": story.revision,
        "tool": [tool.name for tool in needed_tools(plan)],
        "supply": [one.item for one in plan.shopping],
        "step": [
            {"@type": "HowToStep", "name": step.title, "url": f"#step-{step.order}"}
            for step in plan.assembly.steps
        ],
    }
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    return text.replace("<", "\\u003c").replace("&", "\\u0026")
