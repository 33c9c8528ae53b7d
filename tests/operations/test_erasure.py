"""A private person erased: nowhere in the ledger's own bytes, and the acts still add up to the rows."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import inspect, text

from beeledger.base.errors import CannotNow, Refused
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.database.scrubbing import scrub
from beeledger.operations.act import Done, perform
from beeledger.operations.dispatches import Contact, DispatchLine, NewDispatch, post_dispatch
from beeledger.operations.erasure import Blanker, erase_party, prose
from beeledger.operations.honey_lots import NewLot, open_lot
from beeledger.operations.medicines import NewMedicine, add_medicine
from beeledger.operations.parties import NewParty, add_party, change_party
from beeledger.operations.sites import NewSite, add_site, change_site, close_site
from beeledger.operations.stock_items import add_item
from beeledger.operations.undo import undo
from beeledger.queries.acts import acts
from beeledger.queries.parties import list_parties
from beeledger.queries.sites import landholders
from tests.builders.store_room import SUGAR

TOLD = ("Tamsin Arkle", "Arkle", "Tamsin", "01353 555 0142", "tamsin@example.org", "Withy Cottage")
"""Made up; the number stands in the range that Ofcom keeps for stories."""
ARKLE = NewParty(
    "Tamsin Arkle", ("landholder", "customer"), "Miss Arkle, the daughter", "Withy Cottage\nLong Drove",
    "01353 555 0142", "tamsin@example.org",
)  # fmt: skip


def farm(ledger: Ledger) -> int:
    """A landholder who is named in a site, in its way in, in sentences, and who bore another name once."""
    party = int(perform(ledger, add_party, ARKLE).result)
    perform(ledger, add_party, NewParty("Arkle & Frome Seeds", ("grower",)))
    site = NewSite(
        "Tamsin Arkle's paddock", landholder_id=party, way_in="ring 01353 555 0142 or TAMSIN  ARKLE first",
        note="Withy Cottage\nLong Drove is where the key hangs", forage="clover",
    )  # fmt: skip
    perform(ledger, add_site, site)
    perform(ledger, change_party, party, NewParty("T. Arkle-Moss", ("landholder",), phone="01353 555 0199"))
    perform(ledger, change_party, party, ARKLE)
    perform(ledger, add_site, NewSite("Sallow Bank", note="the hedge of T. Arkle-Moss"))
    return party


def rows_of(ledger: Ledger, query: str) -> list[Any]:
    with ledger.read() as session:
        return [tuple(row) for row in session.execute(text(query))]


def sentences(ledger: Ledger) -> list[str]:
    with ledger.read() as session:
        return [line.sentence for line in acts(session)]


def erase(ledger: Ledger, party: int) -> Done:
    done = perform(ledger, erase_party, party)
    scrub(ledger, done.touched)
    return done


def everything(ledger: Ledger) -> str:
    """Every value of every table as text, the images of History unpacked."""
    from beeledger.database.audit import unpack

    said = []
    with ledger.read() as session:
        for name in inspect(session.connection()).get_table_names():
            for row in session.execute(text(f'SELECT * FROM "{name}"')).mappings():
                values = dict(row)
                image = values.pop("image", None)
                said.append(repr(values) + (repr(unpack(bytes(image))) if image else ""))
    return "\n".join(said).replace("Arkle & Frome Seeds", "")


def test_an_erased_person_is_named_nowhere_and_the_check_stays_clean(ledger: Ledger) -> None:
    party = farm(ledger)
    before = everything(ledger)
    assert all(word in before for word in TOLD), "the test would see what is left"
    done = erase(ledger, party)
    left = everything(ledger)
    for word in (*TOLD, "01353 555 0199", "Arkle-Moss", "daughter"):
        assert word.lower() not in left.lower(), word
    assert done.sentence == f"Erased {party}: a party was blanked here, in History, and in 2 other records"
    assert done.result == 2
    assert check_ledger(ledger).clean


def test_what_was_agreed_with_an_erased_person_stays_under_the_mark(ledger: Ledger) -> None:
    party = farm(ledger)
    erase(ledger, party)
    assert rows_of(ledger, f"SELECT name FROM party WHERE id = {party}") == [(f"Erased {party}",)]
    assert rows_of(ledger, "SELECT name, landholder_id, way_in, forage FROM site WHERE id = 1") == [
        (f"Erased {party}'s paddock", party, f"ring Erased {party} or Erased {party} first", "clover")
    ]
    assert rows_of(ledger, "SELECT name FROM party WHERE id <> 1") == [("Arkle & Frome Seeds",)]
    with ledger.read() as session:
        assert [line.roles for line in list_parties(session) if line.erased_on is not None] == [()]
        assert landholders(session) == [], "no list offers who was erased"
    assert "Added Arkle & Frome Seeds" in sentences(ledger), "another firm keeps its name, in sentences too"
    assert f"Added Erased {party}" in sentences(ledger)


def test_the_bytes_of_the_file_and_its_log_hold_nothing_of_the_person(sqlite_ledger: Ledger) -> None:
    party = farm(sqlite_ledger)
    assert sqlite_ledger.file is not None
    files = [Path(f"{sqlite_ledger.file}{end}") for end in ("", "-wal")]

    def raw() -> bytes:
        return b"".join(path.read_bytes() for path in files if path.exists())

    assert all(word.encode() in raw() for word in TOLD)
    erase(sqlite_ledger, party)
    left = raw().replace(b"Arkle & Frome Seeds", b"").lower()
    assert [word for word in TOLD if word.lower().encode() in left] == []
    assert check_ledger(sqlite_ledger).clean


def test_a_desk_that_still_reads_old_pages_is_told_of_and_not_passed_over(
    sqlite_ledger: Ledger, monkeypatch: pytest.MonkeyPatch
) -> None:
    import sqlite3

    party = farm(sqlite_ledger)
    perform(sqlite_ledger, erase_party, party)
    assert sqlite_ledger.file is not None
    monkeypatch.setattr("beeledger.database.ledger.WAIT_MS", 1)
    other = sqlite3.connect(sqlite_ledger.file, isolation_level=None)
    other.execute("BEGIN")
    other.execute("SELECT count(*) FROM act").fetchone()
    with pytest.raises(CannotNow) as told:
        _scrub_at_once(sqlite_ledger)
    assert "Another desk" in told.value.sentence
    other.execute("ROLLBACK")
    other.close()
    scrub(sqlite_ledger)


def _scrub_at_once(ledger: Ledger) -> None:
    """Scrub without the patience of ten seconds."""
    from sqlalchemy import event

    def hasty(connection: Any, _record: Any) -> None:
        connection.execute("PRAGMA busy_timeout=1")

    event.listen(ledger.engine, "connect", hasty)
    try:
        scrub(ledger)
    finally:
        event.remove(ledger.engine, "connect", hasty)


def test_an_erasure_cannot_be_taken_back_nor_done_twice(ledger: Ledger) -> None:
    party = farm(ledger)
    done = perform(ledger, erase_party, party)
    for attempt in (lambda: undo(ledger, done.act), lambda: perform(ledger, erase_party, party)):
        with pytest.raises(Refused):
            attempt()


def test_what_was_written_of_the_person_before_is_not_taken_back_past_the_erasure(ledger: Ledger) -> None:
    party = farm(ledger)
    erase(ledger, party)
    for act in (1, 3, 4, 5):
        with pytest.raises(Refused) as refused:
            undo(ledger, act)
        assert "Arkle" not in refused.value.findings[0].sentence()
    assert check_ledger(ledger).clean


def test_an_act_of_another_record_can_still_be_taken_back_and_brings_no_name_again(ledger: Ledger) -> None:
    party = farm(ledger)
    closed = perform(ledger, close_site, 2, date(2026, 5, 14))
    perform(ledger, change_site, 1, NewSite("Long paddock", note="hedge cut"))
    erase(ledger, party)
    with pytest.raises(Refused):
        undo(ledger, closed.act)  # the note of this site was blanked later
    assert "Arkle-Moss" not in everything(ledger)
    assert check_ledger(ledger).clean


@pytest.mark.parametrize(
    ("text", "blanked"),
    [
        ("Ann Bo rang", "X rang"),
        ("ann  bo, Ann\nBo", "X, X"),
        ("Joann Bo and Ann Boone", "Joann Bo and Ann Boone"),
        ("Ann Bo & Sons, not Ann Bo", "Ann Bo & Sons, not X"),
        ("ring (01) 2.", "ring X."),
        ("ring (01) 23", "ring (01) 23"),
    ],
)
def test_words_are_blanked_where_they_stand_whole(text: str, blanked: str) -> None:
    assert Blanker("X", ("Ann Bo", "(01) 2"), ("Ann Bo & Sons",)).blanked(text) == blanked


def test_fixed_words_hashes_and_the_party_itself_are_no_prose() -> None:
    columns = {model.__tablename__: names for model, names in prose()}
    assert "kind" not in columns["site"]
    assert columns["site"][0] == "name"
    assert columns["attachment"] == ("name", "note")
    assert not {"party", "party_contact", "farm_setting", "crew_member", "act"} & set(columns)


def test_taking_back_a_change_of_address_says_that_addresses_are_not_kept(ledger: Ledger) -> None:
    added = perform(ledger, add_party, ARKLE)
    changed = perform(ledger, change_party, added.result, NewParty("Tamsin Arkle", phone="01353 555 0199"))
    assert undo(ledger, changed.act).sentence.endswith(
        "(addresses and telephone numbers are not kept in History: look at them)"
    )
    assert rows_of(ledger, "SELECT phone, address FROM party_contact") == [("01353 555 0199", None)]
    assert check_ledger(ledger).clean


def test_a_contact_whose_undoing_is_undone_comes_back_empty_and_that_is_said(ledger: Ledger) -> None:
    added = perform(ledger, add_party, ARKLE)
    gone = undo(ledger, added.act)
    again = undo(ledger, gone.act)
    assert "not kept in History" in again.sentence
    assert rows_of(ledger, "SELECT party_id, phone FROM party_contact") == [(added.result, None)]
    assert check_ledger(ledger).clean


def test_the_mark_of_an_erased_person_typed_as_a_name_brings_neither_a_role_nor_an_address(
    sqlite_ledger: Ledger,
) -> None:
    party = farm(sqlite_ledger)
    erase(sqlite_ledger, party)
    mark = f"erased {party}"
    perform(
        sqlite_ledger,
        add_medicine,
        NewMedicine("Fen strips", "amitraz", supplier=mark, supplier_address="Drove"),
    )
    perform(sqlite_ledger, add_item, replace(SUGAR, supplier=mark))
    perform(sqlite_ledger, add_site, NewSite("Mill Hole", landholder=mark))
    lot = perform(sqlite_ledger, open_lot, NewLot("old drum", date(2026, 5, 1), 5_000)).result
    out = NewDispatch(
        date(2026, 5, 2), (DispatchLine(lot, None, 1_000),), mark, contact=Contact(person="Tamsin Arkle")
    )
    with pytest.raises(Refused, match="has been erased"):
        perform(sqlite_ledger, post_dispatch, out)
    roles = "is_supplier, is_landholder, is_customer, is_grower"
    assert rows_of(sqlite_ledger, f"SELECT {roles} FROM party WHERE id = {party}") == [(0, 0, 0, 0)]
    query = f"SELECT person, address FROM party_contact WHERE party_id = {party}"
    assert rows_of(sqlite_ledger, query) == [(None, None)]
    assert check_ledger(sqlite_ledger).clean
