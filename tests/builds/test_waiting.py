from webapp.builds.waiting import circle, circle_in_words, edges, merged


def test_a_straight_chain_has_no_circle() -> None:
    waits = {1: {2, 3}, 2: {3}, 3: set[int]()}
    assert [circle(one, waits) for one in waits] == [[], [], []]


def test_the_shortest_circle_is_shown_from_where_it_was_asked() -> None:
    waits = {1: {2}, 2: {3}, 3: {4, 1}, 4: {1}}
    assert circle(1, waits) == [1, 2, 3]
    assert circle(2, waits) == [2, 3, 1]
    assert circle(5, {5: {1}, **waits}) == []  # it leads into a circle and lies on none


def test_a_circle_reads_as_a_sentence() -> None:
    assert circle_in_words(["Glue", "Plane"]) == "That is a circle: “Glue” waits for “Plane”, which waits for “Glue”."
    assert circle_in_words(["Glue"]) == "That is a circle: “Glue” waits for “Glue”."


def test_who_waits_for_abandoned_work_waits_for_what_does_it_again() -> None:
    assert edges({1: set(), 2: {1}, 3: set()}, {3: 1}) == {1: set(), 2: {1, 3}, 3: {1}}


def test_stages_are_named_once_the_products_first() -> None:
    product, own = [{"name": "out of clamps"}, {"name": "hard"}], [{"name": "hard"}, {"name": "off the form"}]
    assert merged(product, own) == ["out of clamps", "hard", "off the form"]
