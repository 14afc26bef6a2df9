"""README.md shows what the demo prints, to the letter."""

from checkout import TOP

from bot.cli import main


def test_the_conversation_shown_is_what_the_demo_prints(capsys):
    main(["demo"])
    printed = capsys.readouterr().out.split("\n\n")
    _, section = (TOP / "README.md").read_text(encoding="utf-8").split("## A conversation")
    shown = section.split("```")[1].strip("\n").split("\n\n")
    assert len(shown) > 5
    assert [turn for turn in shown if turn not in printed] == []
