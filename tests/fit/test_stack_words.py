import pytest

from nestkit.fit.case import case_of
from nestkit.fit.stack_words import fastener_text, stack_line
from tests.fit.stacked import bought, case, inch, layer, panel, rivet, screw, tube, wood_screw
from tests.fit.test_hardware import tape

LID, FRAME = panel("console lid"), tube("deck frame")
STEEL = panel("mount", ".125", "steel")


def line(*args, unit="in", **more):
    """Return the stack of a joint in one line."""
    found = case(*args, unit=unit, **more)
    return stack_line(found.stack, found.length, unit)


def test_the_line_adds_up_and_names_the_screw():
    """The check value of rule R110, from the head down."""
    assert line(screw(), layer(LID), layer(FRAME)) == (
        "washer .049 + console lid .118 + deck frame 1 + lock nut .24 = 1.407 in; "
        "screw 10-32 x 1 1/2, 2 threads show"
    )


@pytest.mark.parametrize(
    ("own", "says"),
    [("1/4", "too short for the nut"), (".5", "less than 1 thread shows"), (".53", "1 thread shows"),
     (".56", "2 threads show"), (".58375", " 3 threads show"), (".584", "over 3 threads show")],
)  # fmt: skip
def test_threads_that_show(own, says):
    """.125 + .125 + .240 = .49: how many whole threads of 1/32 in stand behind."""
    assert line(screw(length=inch(own)), layer(STEEL), layer(STEEL)).endswith(says)


def test_every_kind_has_its_line():
    """Metric in an mm job, tapped hole, rivet nut, rivet, wood screw, what is not known, tie and tape."""
    plates = layer(panel("a", "2 mm", "steel")), layer(panel("b", "3 mm", "steel"))
    assert line(screw("M5", "nut"), *plates, unit="mm") == (
        "a 2 + b 3 + nut 4.7 = 9.7 mm; screw M5 x 12, 2 threads show"
    )
    tapped = layer(panel("block", ".25", "steel"), holds_thread=True)
    assert line(screw(held_by="tapped hole"), layer(STEEL), tapped) == (
        "mount .125 + block .25 = .375 in; screw 10-32 x 7/16, stands out 1/16 in behind"
    )
    rail = layer(tube("rail", through=False), holds_thread=True)
    assert line(screw(held_by="rivet nut"), layer(STEEL), rail) == (
        "mount .125 + rivet nut in rail .531 = .656 in; screw 10-32 x 3/4, stands out 9/16 in behind"
    )
    assert (
        line(rivet(), layer(STEEL), layer(STEEL)) == "mount .125 + mount .125 = .25 in; rivet 1/8 in code 44"
    )
    rib = layer(panel("rib", ".75", "plywood"))
    assert line(wood_screw(), layer(STEEL), rib) == (
        "mount .125 + rib .75 = .875 in; wood screw #8 x 3/4, 5/8 in in the last part"
    )
    assert line(screw(), layer(STEEL), layer(bought("hinge"))) == (
        "mount .125 + hinge ? + lock nut .24 = not known; screw 10-32, length open"
    )
    for joint, said in (
        (tape("a", "3/16", "8", kind="cable tie"), "cable tie 3/16 x 8 in"),
        (tape("b", "1", ""), "hook-and-loop 1 in"),
    ):
        found = case_of(joint, "in")
        assert stack_line(found.stack, found.length, "in") == said
        assert said.endswith(fastener_text(found.length))


def test_a_long_name_stands_whole():
    """A name of sixty letters is not cut in a text."""
    name = "n" * 60
    assert name in line(screw(), layer(panel(name)), layer(FRAME))
