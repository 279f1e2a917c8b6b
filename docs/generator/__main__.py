"""Write the pages about rule sets, rules and sources anew: `python -m docs.generator`, in a checkout."""

from __future__ import annotations

from app.decision.judging.catalogues import catalogues
from docs.generator.rule_pages import PAGES, written
from docs.generator.sources_page import SOURCES


def main() -> None:
    """Write every page and picture; those of declarations that are gone go too."""
    pages = written(catalogues())
    for file in PAGES.iterdir():
        if file.name not in pages:
            file.unlink()
    for name, text in pages.items():
        (PAGES / name).write_text(text, encoding="utf-8", newline="\n")
    print(f"{len(pages)} pages and pictures, {SOURCES} among them.")


if __name__ == "__main__":
    main()
