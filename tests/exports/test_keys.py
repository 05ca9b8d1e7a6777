"""Keys of journal lines: the order of ids is kept, and what follows from another id still does."""

from webapp.exports.keys import KEY, Fresh, Numbered, order

IDS = ["b7-x", "b7-x.early", "c1.pauses.b7-x", "photo-12", "photo-12-00003", "photo-99", "pauses", "A-9"]


def test_ids_become_numbers_and_ids_again_in_the_same_order() -> None:
    numbered = Numbered(IDS, {12: 1})
    keys = [numbered.of(one) for one in IDS]
    assert keys == ["2", "2.early", "3.pauses.2", "photo-1", "photo-1-00003", "5", "4", "1"]
    assert all(KEY.fullmatch(key) for key in keys)
    fresh = Fresh("t" * 32, {1: 777})
    ids = [fresh.of(key) for key in keys]
    assert ids[3:5] == ["photo-777", "photo-777-00003"]
    assert ids[1] == f"{ids[0]}.early"
    assert max(map(len, ids)) <= 200
    free = [one for one in zip(IDS, ids, strict=True) if not one[0].startswith("photo-12")]
    assert [old for old, _ in sorted(free)] == [old for old, _ in sorted(free, key=lambda both: both[1])]
    again = Numbered(ids, {777: 1})
    assert [again.of(one) for one in ids] == keys


def test_a_photo_that_did_not_come_along_takes_nobodys_id() -> None:
    assert Fresh("t", {}).of("photo-3") == "t-photo-3"


def test_lines_of_one_moment_are_ordered_as_their_ids_are() -> None:
    keys = ["10", "photo-2", "2", "2.early", "photo-10", "2.pauses.1"]
    assert sorted(keys, key=order) == ["2", "2.early", "2.pauses.1", "10", "photo-2", "photo-10"]
