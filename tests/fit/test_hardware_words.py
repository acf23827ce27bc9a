from nestkit.fit.hardware import hardware
from nestkit.fit.hardware_words import CAUTION, conflict_text, hardware_lines
from nestkit.fit.result import Conflict, Hardware
from tests.fit.stacked import assembly, job, layer, panel, rivet, screw, tube
from tests.fit.test_hardware import tape

LID, FRAME = panel("console lid", quantity=9), tube("deck frame", quantity=9)


def test_the_list_reads_as_the_trade_writes_it():
    """What to buy stands first, size and length as on the box, the caution last."""
    laid = (
        assembly(screw(), layer(LID), layer(FRAME), quantity=2),
        assembly(rivet("4"), layer(panel("a", "2 mm", "steel", quantity=9)),
                 layer(panel("b", "2 mm", "steel", quantity=9)), name="plates"),
        tape("battery", "1", "6"),
    )  # fmt: skip
    parts = {layer.part for one in laid for layer in one.layers}
    found = hardware(job(*parts), laid)
    lines = hardware_lines(job(*parts), found)
    conflicts = lines[lines.index("") + 5 : lines.index(CAUTION) - 3]
    assert conflicts[0].startswith("note: lid to frame: The screws go through both walls")
    assert lines == [
        "buy  need  size                 what",
        "  5     4  10-32 x 1 1/2        machine screw, pan head",
        "  3     2  4 x 8 mm             blind rivet, dome head",
        "           grips 3 to 5 mm; go by the grip on the box",
        "  5     4  10-32                lock nut, nylon insert",
        "  5     4  #10                  flat washer",
        "           wide ones on plastic, where there is room",
        "  1     1  6 5/8 in, 1 in wide  hook-and-loop",
        "           in all, for 1 piece; with some to spare",
        "",
        "lid to frame: washer .049 + console lid .118 + deck frame 1 + lock nut .24 = 1.407 in; screw",
        "  10-32 x 1 1/2, 2 threads show",
        "plates: a .0787 + b .0787 = .1575 in; rivet 4 x 8 mm",
        "",
        *conflicts,
        "",
        "Lengths go by the greatest nut heights, mostly from memory: try one joint before you buy them",
        "  all.",
        CAUTION,
    ]
    assert lines[-1] == CAUTION


def test_metric_screws_have_metric_lengths_in_an_inch_job():
    """M5 x 40, whatever the job's unit."""
    laid = (assembly(screw("M5"), layer(LID), layer(FRAME)),)
    for unit in ("in", "mm"):
        assert any(
            "M5 x 40" in line for line in hardware_lines(job(unit=unit), hardware(job(unit=unit), laid))
        )


def test_conflicts_say_what_and_what_to_do():
    """One line each: level, joint, text with its rule, remedy."""
    told = Conflict("lid to rail", True, "the nuts are out of reach", "use rivet nuts", "R112")
    assert conflict_text(told) == "error: lid to rail: The nuts are out of reach (R112). Use rivet nuts."
    assert conflict_text(told) in hardware_lines(job(), Hardware((), (told,))) or not job().joints


def test_no_torque_no_load_but_a_word_to_ask():
    """The only word on torque and load is that none is given."""
    laid = (assembly(screw(), layer(LID), layer(FRAME)),)
    lines = hardware_lines(job(), hardware(job(), laid))
    assert [line for line in lines if "torque" in line.lower() or "load" in line.lower()] == [CAUTION]
    assert "ask someone who is competent" in CAUTION


def test_nothing_is_said_without_joints():
    """A job without joints has no hardware, and no caution for it."""
    assert hardware_lines(job(), Hardware()) == []
