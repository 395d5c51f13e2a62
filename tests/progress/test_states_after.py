"""The course of a skill, read back from its answers."""

from trainer.progress.replay import states_after
from trainer.progress.states import as_state, states_of


def test_the_course_ends_where_the_skill_stands_and_takes_a_step_for_each_counted_answer(desk):
    desk.practise("right", "right", family_id="offset-spacing")
    desk.after(days=3).practise("right", family_id="offset-shrink")
    desk.practise("right", skill="supports.straps")

    with desk.database.read() as session:
        course = states_after(session, desk.person_id, "bends.offset")
        kept = as_state(states_of(session, desk.person_id)["bends.offset"])
        assert states_after(session, desk.person_id, "fittings.connectors") == []
    assert [state.counted for state in course] == [1, 2, 3]
    assert course[-1] == kept
