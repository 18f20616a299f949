"""Puts the generated pages into the site while it is built; they lie nowhere as files."""

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files

from scheduler.documents.site.generated import PAGES


def on_files(files: Files, config: MkDocsConfig) -> Files:
    """Add every generated page."""
    for place, page in PAGES.items():
        files.append(File.generated(config, place, content=page()))
    return files
