"""What tests of hostile requests share."""

from __future__ import annotations


def refused(answer, *statuses):
    """Say that an answer is a refusal in plain words, of one of these statuses."""
    assert answer.status in statuses, (answer.status, answer.body[:300])
    assert answer.json["error"]
    for word in (b"Traceback", b'File "', b"site-packages"):
        assert word not in answer.body
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert "default-src 'none'" in answer.headers["content-security-policy"]
