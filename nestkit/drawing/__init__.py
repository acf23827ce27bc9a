"""One model of marks on pages, for sheets, templates and prints."""
