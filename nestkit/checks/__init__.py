"""Rules of thumb held against a job: one rule a function, each returning findings."""
