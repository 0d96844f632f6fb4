"""What a draft changes, in words."""

from dispatch.web.owner import changes


def test_a_part_of_less_than_a_dollar_is_not_told():
    cents = {"wages": 2_200, "finishing later": 12, "vans": -380}
    assert changes.parts(cents) == "wages $22 more, vans $4 less"
    assert changes.parts({"finishing later": -49}) == ""
