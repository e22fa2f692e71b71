"""The life of a container ahead: which steps its route still asks for."""

from __future__ import annotations

from findsdesk.domain.routes import Route, Standing, StepKind, Treatment

_WET = (StepKind.ARRIVED, StepKind.LOOKED_AT, StepKind.SOAKING, StepKind.COUNTED, StepKind.DRY)
_GENTLE = (StepKind.ARRIVED, StepKind.LOOKED_AT, StepKind.COUNTED, StepKind.DRY)
_BY_HAND = (StepKind.ARRIVED, StepKind.HANDED_ON, StepKind.CAME_BACK)
_DRY = (StepKind.ARRIVED, StepKind.COUNTED, StepKind.DRY)
_WAY = {
    Treatment.WET: _WET,
    Treatment.GENTLE: _GENTLE,
    Treatment.DRY: _DRY,
    Treatment.SPECIALIST: _BY_HAND,
    Treatment.CLOSED: (StepKind.ARRIVED, StepKind.CLOSED),
    Treatment.STOP: (StepKind.ARRIVED, StepKind.HANDED_ON),
}
_SORTED = (StepKind.SORTING, StepKind.SETTLED)

# How far along its way a standing is: the last step that is behind it.
_BEHIND = {
    Standing.ARRIVED: StepKind.ARRIVED,
    Standing.SOAKING: StepKind.SOAKING,
    Standing.WASHED: StepKind.SOAKING,
    Standing.DRYING: StepKind.COUNTED,
    Standing.DRY: StepKind.DRY,
    Standing.SORTING: StepKind.SORTING,
    Standing.SETTLED: StepKind.SETTLED,
    Standing.AWAY: StepKind.HANDED_ON,
}
_DONE = frozenset({Standing.BAGGED, Standing.CLOSED, Standing.EMPTY, Standing.VOID, Standing.UNUSED, Standing.JOINED})


def steps_ahead(route: Route, standing: Standing, *, looked_at: bool = False) -> tuple[StepKind, ...]:
    """Return the steps that a container of this route still has before it, in their order."""
    if standing in _DONE:
        return ()
    closed = route.treatment in (Treatment.CLOSED, Treatment.STOP)
    way = _WAY[route.treatment] + (_SORTED if route.sorted_here else ()) + (() if closed else (StepKind.BAGGED,))
    behind = _BEHIND.get(standing)
    if behind is not None and behind in way:
        way = way[way.index(behind) + 1 :]
    return tuple(step for step in way if not (looked_at and step is StepKind.LOOKED_AT))
