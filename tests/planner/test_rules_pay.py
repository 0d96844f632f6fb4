"""Where breaking a rule would pay, the plan keeps it, and is the cheapest that does."""

import pytest

from tests.planner.brute import cheapest
from tests.planner.rule_weeks import RULES
from tests.planner.weeks import faults, planned


@pytest.mark.parametrize("rule", RULES)
def test_a_rule_that_costs_is_kept(rule):
    kept, broken = RULES[rule]
    plan = planned(kept, steps=150)
    assert faults(kept, plan) == []
    assert plan["cost"]["total"] == cheapest(kept)["cost"]["total"]
    tempted = planned(broken, steps=150)
    assert faults(broken, tempted) == []
    assert tempted["cost"]["total"] < plan["cost"]["total"]
