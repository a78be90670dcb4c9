"""Reading alternates: items that are priced beside the base until one decides for them."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace

from estimator.errors import Faults, did_you_mean, quoted
from estimator.scope.located import Section, Text
from estimator.scope.located_reader import LocatedReader
from estimator.scope.scope import Alternate, Item, Scope

ALTERNATES, ALTERNATE = "alternates", "alternate"
MOST_ALTERNATES = 20

_KEYS = ("code", "name", "accepted", "takes_out")
_ANSWERS = ("no", "yes")


def read_alternates(
    scope: Scope,
    section: Section,
    tags: Mapping[str, Text],
    unread: Collection[str],
    faults: Faults,
) -> Scope:
    """Return a scope with its alternates, of which only the accepted ones are in its phases.

    Parameters
    ----------
    scope : Scope
        With the items of all alternates in its phases.
    section : Section
        The whole scope.
    tags : mapping of str to Text
        By cost code: the alternate that an item names.
    unread : collection of str
        Cost codes of items that have faults: they are there, and may be named.
    faults : Faults
        Where faults are noted.
    """
    reader = _AlternatesReader(faults, scope.items, tags, unread)
    alternates = tuple(reader.alternates(section))
    reader.check_tags(alternates)
    _check_contradictions(alternates, section, faults)
    accepted = [one.code for one in alternates if one.is_accepted]
    whole = replace(scope, alternates=alternates)
    chosen = whole.with_alternates(accepted) if alternates else whole
    with_items = {phase.code for phase in chosen.phases} | {one.partition(".")[0] for one in unread}
    for code in [phase.code for phase in scope.phases]:
        if code not in with_items:
            faults.add(
                section.where,
                f"phase {quoted(code)} has no item left once alternates are taken out",
                "put the items of its alternates into a phase that has others",
            )
    return chosen


class _AlternatesReader(LocatedReader):
    def __init__(
        self,
        faults: Faults,
        items: Sequence[Item],
        tags: Mapping[str, Text],
        unread: Collection[str],
    ) -> None:
        super().__init__(faults)
        self.items = {item.code: item for item in items}
        self.tags, self.unread = tags, unread
        self.named = {tag.value for tag in tags.values()}

    def alternates(self, section: Section) -> Iterator[Alternate]:
        """Yield the alternates that a scope lists, noting those that change nothing."""
        parts = self.parts(section, ALTERNATES, required=False)
        if len(parts) > MOST_ALTERNATES:
            self.faults.add(section.where, f"has more than {MOST_ALTERNATES} alternates")
        seen: set[str] = set()
        for part in parts[:MOST_ALTERNATES]:
            stated = self.section(part, ALTERNATE, _KEYS)
            one = self.alternate(stated)
            if one.code in seen:
                self.faults.add(stated.where, f"repeats alternate {quoted(one.code)}")
            elif one.code and not (one.code in self.named or "takes_out" in stated.entries):
                self.faults.add(
                    stated.where,
                    f"alternate {quoted(one.code)} changes nothing",
                    f"name it in an item, as in alternate: {one.code}, or list what it takes_out",
                )
            seen.add(one.code)
            yield one

    def alternate(self, stated: Section) -> Alternate:
        code, name = self.code(stated, ALTERNATE), self.text(stated, "name")
        is_accepted = self.known(stated, "accepted", "no", _ANSWERS) == "yes"
        adds = [one for one in self.items.values() if self._tag(one.code) == code]
        return Alternate(code, name, is_accepted, tuple(adds), tuple(self.taken_out(stated, code)))

    def taken_out(self, stated: Section, code: str) -> Iterator[Item]:
        for item in self.texts(stated, "takes_out"):
            where = stated.entries["takes_out"].where
            if item not in self.items and item not in self.unread:
                what = f"alternate {code} takes out {quoted(item)}, which is no item"
                self.faults.add(where, what, did_you_mean(item, [*self.items, *self.unread]))
            elif item in self.tags:
                what = f"alternate {code} takes out {item}, which is only in alternate "
                self.faults.add(where, what + self.tags[item].value, "name an item of the base")
            elif item in self.items:
                yield self.items[item]

    def _tag(self, item: str) -> str:
        return self.tags[item].value if item in self.tags else ""

    def check_tags(self, alternates: Sequence[Alternate]) -> None:
        """Note items that name an alternate which the scope does not list."""
        codes = [one.code for one in alternates]
        for item, tag in self.tags.items():
            if tag.value not in codes:
                what = f"item {item} names the unknown alternate {quoted(tag.value)}"
                remedy = did_you_mean(tag.value, codes, "list it under alternates")
                self.faults.add(tag.where, what, remedy)


def _check_contradictions(
    alternates: Sequence[Alternate], section: Section, faults: Faults
) -> None:
    """Note accepted alternates that take out the same item: only one can stand in its place."""
    by_item: dict[str, str] = {}
    for one in alternates:
        for item in one.takes_out if one.is_accepted else ():
            if item.code in by_item:
                faults.add(
                    section.where,
                    f"alternates {by_item[item.code]} and {one.code} are both accepted, and both "
                    f"take out {item.code}",
                    "accept one of them",
                )
            by_item.setdefault(item.code, one.code)
