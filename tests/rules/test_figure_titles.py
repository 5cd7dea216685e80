"""Figures of the rule book are told by words, not by their keys."""

from siteplan.rules.book import book, by_group
from siteplan.rules.figure_titles import FIGURE_TITLES


def test_every_figure_of_the_book_has_a_title_and_no_title_is_left_over():
    named = {name for rule in book().values() for name in rule.figures}
    assert named == set(FIGURE_TITLES)


def test_titles_of_one_rule_tell_its_figures_apart():
    for rule in book().values():
        titles = [FIGURE_TITLES[name] for name in rule.figures]
        assert len(titles) == len(set(titles))


def test_each_rule_stands_in_one_group_of_its_own_name():
    grouped = [one for rules in by_group().values() for one in rules]
    assert sorted(one.id for one in grouped) == sorted(book())
    assert all(one.group == group for group, rules in by_group().items() for one in rules)
