"""Points laid so that their distances are as wanted, as far as a sheet of paper allows it.

Source: Gansner, Koren and North (2004), 'Graph drawing by stress majorization',
doi:10.1007/978-3-540-31843-9_25, its localized optimization with weights of 1 / distance squared.
"""

from collections.abc import Sequence

from solver.pictures.shapes import Point, distance

MOVES = 3000
"""How often points are moved in all, a fixed number: a small frame's more often each than a large one's."""
LEAST, MOST = 80, 400
"""Rounds in which each point is moved once."""
Distances = Sequence[Sequence[float]]


def settled(wanted: Distances, start: Sequence[Point]) -> list[Point]:
    """Move points from where they start, a fixed number of rounds, until distances are nearly as wanted."""
    points = list(start)
    for _ in range(min(max(MOVES // max(len(points), 1), LEAST), MOST)):
        for number in range(len(points)):
            points[number] = _moved(number, points, wanted[number])
    return points


def stress(wanted: Distances, points: Sequence[Point]) -> float:
    """Return the mean square of what distances are off at the best scale, as a share of what is wanted.

    1 less the square of the mean share that is reached over the mean of its square: nothing where all is to scale.
    """
    pairs = [(one, other) for one in range(len(points)) for other in range(one)]
    shares = [distance(points[one], points[other]) / wanted[one][other] for one, other in pairs]
    squares = sum(share * share for share in shares) * len(shares)
    return 1 - sum(shares) ** 2 / squares if squares else 0.0


def _moved(number: int, points: Sequence[Point], wanted: Sequence[float]) -> Point:
    x, y = points[number]
    sum_x = sum_y = weights = 0.0
    for other, (other_x, other_y) in enumerate(points):
        if other == number:
            continue
        weight = 1 / wanted[other] ** 2
        share = wanted[other] / max(distance((x, y), (other_x, other_y)), 1e-6)
        sum_x += weight * (other_x + share * (x - other_x))
        sum_y += weight * (other_y + share * (y - other_y))
        weights += weight
    return (sum_x / weights, sum_y / weights) if weights else (x, y)
