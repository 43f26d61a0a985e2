"""The fewest settings: the shortest list of settings that every chain of cuts can follow.

A chain is what has to be set, one after the other, from a whole sheet down to one piece of it. A
list of settings does for all sheets if every chain is left when some of the list is struck out,
because each setting is used on all pieces that wait for it. So the fewest settings are a shortest
common supersequence of the chains; searched for by iterative deepening with a lower bound.
"""

from collections import Counter, deque
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

EFFORT = 150_000
"""Settings in all states that are looked at: about a second's work."""

MOST_CHAINS = 250
"""Of more chains, none is compared with the others and nothing is searched."""

MOST_SETTINGS = 250
"""Where more are needed, the search would go too deep; then a good list has to do."""

BREADTH = 30
"""Lists that are carried on side by side where the search looks for a good one, not the best."""

Chain = tuple[int, ...]
"""Settings by number; of two that can be made next, the lower is tried first."""

State = tuple[Chain, ...]
"""What is left of every chain: sorted, no two alike, none empty."""


@dataclass(frozen=True, slots=True)
class Fewest:
    """A list of settings that does for all chains, and how few any list could have."""

    settings: Chain
    bound: int


@dataclass(slots=True)
class _Search:
    """The state of one search; never leaves this module.

    Attributes:
        failed: With how many settings a state is known not to be finished.
    """

    effort: int
    looked_at: int = 0
    failed: dict[State, int] = field(default_factory=dict)


def find_fewest(chains: Iterable[Chain], known: Chain, effort: int = EFFORT) -> Fewest:
    """Return the shortest list of settings found for all chains.

    Args:
        chains: No setting follows itself in one.
        known: A list that does; it is returned where none is shorter.
        effort: Settings in states of the search to look at, at most.
    """
    state = _state(chains)
    if len(state) > MOST_CHAINS:
        return Fewest(known, _count_bound(state))
    state = _state(_longest(state))
    bound, best = find_settings_bound(state), known
    if bound < len(best):
        best = _look_broadly(state, len(best) - 1, effort) or best
    search = _Search(effort)
    while bound < len(best) and bound <= MOST_SETTINGS:
        found = _finish(search, state, bound)
        if found is not None:
            return Fewest(found, bound)
        if search.looked_at >= effort:
            break
        bound += 1
    return Fewest(best, bound)


def find_settings_bound(chains: Sequence[Chain]) -> int:
    """Return a number of settings that no list for all chains can do with less than.

    Every setting is made as often as the chain asks that has it most. Where that many of each
    would have to come before each other in a circle, one of the circle is made once more; circles
    that share no setting count separately.
    """
    return _count_bound(chains) + _count_circles(chains)


def _state(chains: Iterable[Chain]) -> State:
    return tuple(sorted({chain for chain in chains if chain}))


def _longest(chains: Sequence[Chain]) -> list[Chain]:
    """Return the chains that are not contained in another one."""
    kept: list[Chain] = []
    for chain in sorted(chains, key=lambda chain: (-len(chain), chain)):
        if not any(_contains(other, chain) for other in kept):
            kept.append(chain)
    return kept


def _contains(chain: Chain, other: Chain) -> bool:
    rest = iter(chain)
    return all(setting in rest for setting in other)


def _finish(search: _Search, state: State, room: int) -> Chain | None:
    """Return a list of at most ``room`` settings that does for what is left, or None."""
    if not state:
        return ()
    if search.failed.get(state, -1) >= room or search.looked_at >= search.effort:
        return None
    search.looked_at += _size(state)
    count = _count_bound(state)
    if count <= room and count + _count_circles(state) <= room:
        for setting in _choices(state):
            rest = _finish(search, _after(state, setting), room - 1)
            if rest is not None:
                return (setting, *rest)
    if search.looked_at < search.effort:
        search.failed[state] = room
    return None


def _choices(state: State) -> list[int]:
    """Return what can be set next; one alone if nothing is lost by it.

    That is a setting that is never needed again once it is used on all that waits for it.
    """
    later = {setting for chain in state for setting in chain[1:]}
    heads = sorted({chain[0] for chain in state})
    return next(([head] for head in heads if head not in later), heads)


def _after(state: State, setting: int) -> State:
    return _state(chain[1:] if chain[0] == setting else chain for chain in state)


def _size(state: State) -> int:
    return sum(map(len, state))


def _look_broadly(state: State, most: int, effort: int) -> Chain | None:
    """Return a list of at most so many settings, if one is found without ever going back.

    At every length only the states with the lowest bounds go on; none where that is too much work.
    """
    steps = 2 * _count_bound(state)
    breadth = min(BREADTH, effort // max(1, steps * _size(state)))
    front: dict[State, Chain] = {state: ()} if breadth else {}
    for _ in range(most):
        following: dict[State, Chain] = {}
        for one, settings in front.items():
            for setting in _choices(one):
                following.setdefault(_after(one, setting), (*settings, setting))
        if () in following:
            return following[()]
        best = sorted(following, key=lambda one: (_count_bound(one), _size(one)))
        front = {one: following[one] for one in best[:breadth]}
    return None


def _count_most(chains: Sequence[Chain]) -> dict[int, int]:
    """Return how often each setting is in the chain that has it most often."""
    most: dict[int, int] = {}
    for chain in chains:
        for setting, count in Counter(chain).items():
            if count > most.get(setting, 0):
                most[setting] = count
    return most


def _count_bound(chains: Sequence[Chain]) -> int:
    return sum(_count_most(chains).values())


def _count_circles(chains: Sequence[Chain]) -> int:
    """Return how many circles without a common setting are found; the short ones first."""
    later = _find_later(chains)
    count = 0
    while circle := _find_circle(later):
        count += 1
        gone = {setting for setting, _ in circle}
        later = {
            use: {one: None for one in uses if one[0] not in gone}
            for use, uses in later.items()
            if use[0] not in gone
        }
    return count


Use = tuple[int, int]
"""A setting, and how often it was made before in the same chain."""

Later = dict[Use, dict[Use, None]]
"""What must come after each use; dicts, because their order is that of the chains."""


def _find_later(chains: Sequence[Chain]) -> Later:
    """Return which uses come after which, if no setting is made oftener than any chain asks.

    Then the uses in a chain that has a setting most often are all there are of it.
    """
    most = _count_most(chains)
    later: Later = {}
    for chain in chains:
        uses = [use for use in _number_uses(chain) if chain.count(use[0]) == most[use[0]]]
        for place, use in enumerate(uses):
            later.setdefault(use, {}).update(dict.fromkeys(uses[place + 1 :]))
    return later


def _number_uses(chain: Chain) -> list[Use]:
    seen: Counter[int] = Counter()
    uses = []
    for setting in chain:
        uses.append((setting, seen[setting]))
        seen[setting] += 1
    return uses


def _find_circle(later: Later) -> list[Use]:
    """Return the shortest circle of uses each of which must come before the next one."""
    for use, following in later.items():
        for other in following:
            if use in later[other]:
                return [use, other]
    inner = _without_ends(later)
    ways = [way for use in inner if (way := _find_way_back(use, inner))]
    return min(ways, key=len, default=[])


def _without_ends(later: Later) -> Later:
    """Return the uses from which some way leads on for ever: those in circles or before one."""
    while ends := {use for use, following in later.items() if not following}:
        later = {
            use: {one: None for one in following if one not in ends}
            for use, following in later.items()
            if use not in ends
        }
    return later


def _find_way_back(start: Use, later: Later) -> list[Use]:
    """Return the shortest way from a use to itself, empty if there is none."""
    ways = {start: [start]}
    waiting = deque([start])
    while waiting:
        use = waiting.popleft()
        for one in later[use]:
            if one == start:
                return ways[use]
            if one not in ways:
                ways[one] = [*ways[use], one]
                waiting.append(one)
    return []
