"""Supply against demand: infinite answers, altitude on the careful side, refusals."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.physics.compressed_air import (
    altitude_factor,
    ambient_pressure_pa,
    delivered_l_s,
    peak_l_s,
    pump_up_s,
    receiver_drawdown_s,
)
from scheduler.physics.ranges import OutOfRange


@settings(max_examples=30, deadline=None)
@given(st.floats(50.0, 1000.0), st.floats(0.1, 20.0), st.floats(1.0, 300.0), st.floats(0.0, 3000.0))
def test_a_pull_at_the_peak_flow_empties_the_receiver_no_sooner(
    receiver_l: float, supply: float, pull_s: float, altitude_m: float
) -> None:
    """What peak_l_s promises, put back into local free air, draws the receiver down in at least the pull."""
    peak = peak_l_s(delivered_l_s(supply, altitude_m), receiver_l, 10.0, 6.2, pull_s, altitude_m)
    local_demand = peak * altitude_factor(6.2, altitude_m)
    assert receiver_drawdown_s(receiver_l, 10.0, 6.2, local_demand, supply, altitude_m) >= pull_s * (1 - 1e-9)


def test_at_sea_level_the_peak_is_supply_plus_stored_air_over_the_pull() -> None:
    """200 L from 10 to 6.2 bar hold 750.06 L of free air: 25.002 L/s over 30 s on top of 3.5."""
    assert peak_l_s(3.5, 200.0, 10.0, 6.2, 30.0) == pytest.approx(28.502, abs=1e-3)
    assert peak_l_s(3.5, 0.0, 10.0, 6.2, 30.0) == 3.5


def test_a_supply_that_meets_demand_never_draws_the_receiver_down() -> None:
    """Equal flows last for ever."""
    assert receiver_drawdown_s(200.0, 10.0, 6.2, 3.5, 3.5) == math.inf


def test_pump_up_undoes_a_drawdown() -> None:
    """What a draw of 5 L/s takes in some time, 5 L/s put back in the same time, at any altitude."""
    down = receiver_drawdown_s(200.0, 10.0, 6.2, 5.0, 0.0, 1500.0)
    assert pump_up_s(200.0, 6.2, 10.0, 5.0, 1500.0) == pytest.approx(down)


def test_altitude_takes_from_the_supply_and_sea_level_nothing() -> None:
    """10 L/s at 1524 m serve as 8.52 L/s of sea-level demand at 6.2 bar; below sea level nothing is gained."""
    assert delivered_l_s(10.0, 0.0) == 10.0
    assert delivered_l_s(10.0, 1524.0) == pytest.approx(10.0 / 1.1735, rel=1e-3)
    assert delivered_l_s(10.0, -300.0) == 10.0


def test_a_higher_tool_pressure_costs_more_at_altitude() -> None:
    """The factor grows with gauge pressure, so one pressure for all must be the highest."""
    assert altitude_factor(10.0, 2000.0) > altitude_factor(6.2, 2000.0) > altitude_factor(0.0, 2000.0) == 1.0


@pytest.mark.parametrize(
    "call",
    [
        lambda: ambient_pressure_pa(7000.0),
        lambda: altitude_factor(-1.0, 0.0),
        lambda: delivered_l_s(-1.0, 0.0),
        lambda: receiver_drawdown_s(200.0, 6.2, 10.0, 6.0, 3.5),
        lambda: receiver_drawdown_s(-1.0, 10.0, 6.2, 6.0, 3.5),
        lambda: receiver_drawdown_s(200.0, 10.0, 6.2, math.nan, 3.5),
        lambda: pump_up_s(200.0, 6.2, 10.0, 0.0),
        lambda: pump_up_s(200.0, 0.0, math.inf, 5.0),
        lambda: peak_l_s(3.5, 200.0, 10.0, 6.2, 0.0),
    ],
)
def test_impossible_inputs_are_refused(call: object) -> None:
    """Pressures the wrong way round, negative volumes, no delivery, no pull."""
    assert callable(call)
    with pytest.raises(OutOfRange):
        call()
