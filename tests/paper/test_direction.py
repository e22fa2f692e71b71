from findsdesk.paper.direction import direction_mark, isolated, levels_of, runs_left, visual_stretches

HEBREW, ARABIC = "חרס", "فخار"


def seen(text):
    """Return the letters in the order of the eye, brackets not turned."""
    return "".join([text[start:end][:: -1 if level % 2 else 1] for start, end, level in visual_stretches(text)])


def test_a_line_of_latin_letters_and_figures_is_one_stretch():
    assert visual_stretches("Bucket 131, 2017") == [(0, 16, 0)]
    assert visual_stretches("") == []


def test_figures_between_words_from_right_to_left_keep_their_own_order():
    assert seen("חרס 2017 חפירה") == "חרס 2017 חפירה"[9:][::-1] + " 2017 " + "סרח"


def test_a_number_beside_an_isolated_word_stays_on_its_side():
    backwards = HEBREW[::-1]
    assert seen(f"TQ · {HEBREW} · 38 g") == f"TQ · 38 · {backwards} g"
    assert seen(f"TQ · {isolated(HEBREW)} · 38 g") == f"TQ · \u2068{backwards}\u2069 · 38 g"


def test_the_first_strong_letter_says_how_a_text_runs():
    assert runs_left(f"131 {ARABIC} TQ")
    assert not runs_left(f"131 TQ {ARABIC}")
    assert not runs_left("131")
    assert not runs_left("Ταμπακαριό")
    assert (direction_mark("TQ"), direction_mark(f"TQ {HEBREW}"), direction_mark(HEBREW)) == ("", "\u200e", "\u200f")


def test_a_line_without_letters_runs_as_it_is_told():
    assert levels_of("(12)") == [0, 0, 0, 0]
    assert levels_of("(12)", otherwise=1) == [1, 2, 2, 1]
