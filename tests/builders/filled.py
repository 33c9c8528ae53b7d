"""A small farm with something in nearly every table: for tests over a whole ledger. All names invented."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.contracts import NewContract, add_contract
from beeledger.operations.farm import set_farm
from beeledger.operations.honey import Filled, NewExtraction, extract_run
from beeledger.operations.labels import NewBatch, jar_batch
from beeledger.operations.moves import post_move
from beeledger.operations.parties import NewParty, NewVehicle, add_party, add_vehicle
from beeledger.operations.takes import NewTake, NewTakeLine, NewWeighing, Weighed, record_take, weigh_take
from beeledger.queries.records.move_desk import NewMove, carried
from beeledger.rules.rounds.entry import Entry, FeedKind, MiteMethod, Outcome, QueenState, Split, SplitQueen
from tests.builders.yards import Yard, strips, yard

FED, SPLIT, MOVED, TAKEN = date(2026, 4, 2), date(2026, 4, 28), date(2026, 4, 20), date(2026, 5, 4)


@dataclass(frozen=True, slots=True)
class WholeFarm:
    """What was made, by its numbers."""

    long: Yard
    far: Yard
    van: int
    contract: int
    supers: int
    drum: int
    batch: int


def whole_farm(ledger: Ledger) -> WholeFarm:
    """Two yards, a trip, rounds with feed, strips, mites and a split, honey from the super to the jar."""
    perform(
        ledger,
        set_farm,
        {"name": "Sallow Bees", "address": ["Sallow Barn", "Nether Hay"], "lot_prefix": "SB"},
    )
    long, far = yard(ledger, "Long Drove", "1", "2", "3"), yard(ledger, "Far Drove", "21", "22")
    strips(ledger)
    van = perform(ledger, add_vehicle, NewVehicle("Blue van", 6, 800_000)).result
    grower = perform(ledger, add_party, NewParty("Ladder Hill Fruit", ("grower",), phone="01234 567")).result
    contract = perform(
        ledger,
        add_contract,
        NewContract(
            "Ladder Hill 2026", grower, far.site, "apple", 2, date(2026, 4, 10), date(2026, 5, 10), 4_500
        ),
    ).result
    long.post(FED, h1=Entry(feed_kind=FeedKind.SYRUP_1_1, feed_ml=2000), h2=Entry(medicine_in_count=2))
    trip = NewMove(
        long.site, far.site, MOVED, 1230, 1290, carried([long.hives["3"]]), vehicle_id=van, driver="Ned"
    )
    perform(ledger, post_move, trip)
    long.post(
        SPLIT,
        h1=Entry(
            outcome=Outcome.LOOKED, supers_on=1, mites_count=3, mites_method=MiteMethod.WASH, mites_bees=300
        ),
        h2=Entry(
            queen_state=QueenState.CELLS,
            medicine_out_count=2,
            split_to=(Split("9", 20, 30, SplitQueen.QUEEN),),
        ),
    )
    return WholeFarm(long, far, van, contract, *_honey(ledger, long))


def _honey(ledger: Ledger, long: Yard) -> tuple[int, int, int]:
    take = perform(ledger, record_take, NewTake(long.site, TAKEN, (NewTakeLine(1, long.hives["1"]),))).result
    supers = perform(ledger, weigh_take, NewWeighing(take, TAKEN, (Weighed(20_500, 7_500),))).result
    run = NewExtraction(
        date(2026, 5, 5), (supers,), (Filled("drum 7", 13_500, 1_000, moisture_hundredths=1_760),)
    )
    (drum,) = perform(ledger, extract_run, run).result
    batch = perform(ledger, jar_batch, NewBatch(drum, date(2026, 5, 12), 340, 30)).result
    return supers, drum, batch
