"""What any program of this kind has to do at least: the measure for the bench.

C `yaml.load`, a validator of jsonschema that is used again, a page of 230 lines from Jinja, one file written.
Run as `python bare_pipeline.py SPECS OUT SCHEMA`.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

import yaml
from jinja2 import Environment
from jsonschema import Draft202012Validator

LINES = 230

TEMPLATE = "".join(
    (
        "# {{ drum }}\n\n{{ title }}\n\n",
        "{% for row in rows %}| {{ row.number }} | {{ row.name }} | {{ row.value }} mm |\n{% endfor %}",
    )
)


def main() -> None:
    """Run the pipeline over every spec of a folder."""
    specs, out, schema = (Path(argument) for argument in sys.argv[1:4])
    out.mkdir(parents=True, exist_ok=True)
    validator = Draft202012Validator(json.loads(schema.read_text(encoding="utf-8")))
    template = Environment(autoescape=False).from_string(TEMPLATE)
    rows = [{"number": number, "name": f"row {number}", "value": number * 3} for number in range(LINES - 4)]
    for path in sorted(specs.glob("*.yaml")):
        with path.open("rb") as file:
            data = yaml.load(file, Loader=yaml.CSafeLoader)
        if next(validator.iter_errors(data), None) is not None:
            raise SystemExit(f"{path.name} is not valid")
        page = template.render(drum=data["drum"], title=data["title"], rows=rows)
        (out / f"{data['drum']}.md").write_text(page, encoding="utf-8")


if __name__ == "__main__":
    main()
