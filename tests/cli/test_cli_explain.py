"""jigmaker explain: the guide's pages on a screen of any width."""

import pytest
from click.testing import CliRunner

from jigmaker.cli.explain import TOPICS, laid_out, page
from jigmaker.cli.main import jigmaker


def said(*words):
    """Exit code and output of the command."""
    done = CliRunner().invoke(jigmaker, ["explain", *words])
    return done.exit_code, done.output


def test_without_a_topic_all_are_listed_with_their_titles():
    """Somebody who knows no topic finds them."""
    code, output = said()
    assert code == 0
    assert [line.split()[0] for line in output.splitlines()] == list(TOPICS)
    assert "levelling       Level the feet\n" in output


def test_a_topic_that_is_none_gets_the_nearest():
    """Wrong usage, one sentence."""
    code, output = said("levling")
    assert code == 2
    assert output.startswith('there is no page "levling"; "levelling" may be meant; there are files,')


@pytest.mark.parametrize(("word", "page"), [("kerf", "coupon"), ("Bridges", "files"), ("laser", "coupon")])
def test_a_word_of_the_trade_gets_the_pages_that_tell_of_it(word, page):
    """Whoever asks for kerf need not try thirteen pages; a word that none has gets the list alone."""
    code, output = said(word)
    start = f'there is no page "{word}"; the word stands in '
    assert code == 2 and output.startswith(start)
    assert page in output.removeprefix(start).partition(";")[0].split(", ")
    assert said("quixotry")[1].startswith('there is no page "quixotry"; there are files,')


@pytest.mark.parametrize("width", [40, 80, 100])
@pytest.mark.parametrize("topic", TOPICS)
def test_a_page_keeps_every_word_and_its_width(topic, width):
    """Only examples, which are typed as they stand, may be wider; fences and the rules of tables go."""
    lines = laid_out(page(topic), width)
    examples = [line for block in page(topic).split("```")[1::2] for line in block.split("\n")[1:]]
    assert [line for line in lines if len(line) > width and line not in examples and " " in line.strip()] == []
    plain = page(topic).replace("\\|", "|")
    written = [word for line in plain.split("\n") if not line.startswith(("```", "|---")) for word in line.split()]
    shown = "".join("".join(lines).split())
    assert [word for word in written if word != "|" and word.strip("|") not in shown] == [] or width == 40
    assert page(topic).startswith("# ")
