"""Docstrings of public functions name the parameters that the functions have."""

import importlib
import inspect
import pkgutil
import re

import pytest

ROOMS = ("geometry", "power", "air", "sound", "plan", "rules", "units", "words", "suggest")
SECTION = re.compile(r"^(Parameters|Returns|Raises|Yields|Notes|Examples|Attributes)\n-+$", re.M)


def _functions():
    for room in ROOMS:
        package = importlib.import_module(f"siteplan.{room}")
        paths = getattr(package, "__path__", [])
        names = [one.name for one in pkgutil.walk_packages(paths, f"{package.__name__}.")]
        for module in [package, *map(importlib.import_module, names)]:
            for name, function in vars(module).items():
                own = getattr(function, "__module__", "") == module.__name__
                if inspect.isfunction(function) and own and not name.startswith("_"):
                    yield pytest.param(function, id=f"{module.__name__}.{name}")


FUNCTIONS = list(_functions())


def _section(function, wanted):
    parts = SECTION.split(inspect.getdoc(function) or "")
    return dict(zip(parts[1::2], parts[2::2], strict=True)).get(wanted)


def documented(function):
    """Return the parameters a numpydoc section names, or None if there is no section."""
    section = _section(function, "Parameters")
    if section is None:
        return None
    heads = [line for line in section.splitlines() if line and not line.startswith(" ")]
    return {name.strip(" *") for head in heads for name in head.split(" : ")[0].split(",")}


def test_the_check_itself_sees_a_difference():
    def wrong(a: int, c: int) -> int:
        """Add.

        Parameters
        ----------
        a, b : int
            Numbers.

        Returns
        -------
        int
            The sum.
        """
        return a + c

    assert documented(wrong) == {"a", "b"}
    assert documented(wrong) != set(inspect.signature(wrong).parameters)
    assert len(FUNCTIONS) > 100


@pytest.mark.parametrize("function", FUNCTIONS)
def test_parameters_in_the_docstring_are_those_of_the_function(function):
    assert inspect.getdoc(function)
    named = documented(function)
    if named is not None:
        assert named == set(inspect.signature(function).parameters)


def _exported():
    for room in ("geometry", "power", "air", "sound", "plan", "rules", "suggest"):
        package = importlib.import_module(f"siteplan.{room}")
        for name in getattr(package, "__all__", ()):
            if inspect.isfunction(getattr(package, name)):
                yield pytest.param(getattr(package, name), id=f"{room}.{name}")


@pytest.mark.parametrize("function", list(_exported()))
def test_an_exported_function_of_several_numbers_explains_each(function):
    parameters = set(inspect.signature(function).parameters)
    if len(parameters) > 1:
        assert documented(function) == parameters
