"""Projects that no plan exists for."""

import pytest

from webapp.planning.search import Link, Project, ProjectError


@pytest.mark.parametrize(
    ("durations", "demands", "capacities", "links", "says"),
    [
        ((1,), ((2,),), (1,), (), "activity 0 takes 2 of resource 0, and there are 1"),
        ((1,), ((-1,),), (1,), (), "activity 0 takes -1 of resource 0"),
        ((-1,), ((0,),), (1,), (), "activity 0 takes -1"),
        ((1,), ((1, 1),), (1,), (), "activity 0 names 2 resources, and there are 1"),
        ((1, 1), ((1,),), (1,), (), "2 durations, and demands for 1 activities"),
        ((1, 1), ((), ()), (), (Link(0, 2),), "no such link"),
        ((1, 1), ((), ()), (), (Link(0, 1, wait=-1),), "no such link"),
        ((1, 1, 1), ((), (), ()), (), (Link(0, 1), Link(1, 0)), r"activities \[0, 1\] wait for themselves"),
    ],
)
def test_a_project_that_cannot_be_is_refused(
    durations: tuple[int, ...],
    demands: tuple[tuple[int, ...], ...],
    capacities: tuple[int, ...],
    links: tuple[Link, ...],
    says: str,
) -> None:
    with pytest.raises(ProjectError, match=says):
        Project(durations, demands, capacities, links)
