"""Pages from templates: HTML, style sheets, and what the report runs in the browser."""
