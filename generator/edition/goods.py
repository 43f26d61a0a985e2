"""What the stocks of a design mean in one edition: sheets and boards to saw, edging to put on."""

from collections.abc import Mapping

from generator.model.catalogue import Board, Catalogue, Edging, Sheet
from generator.model.design import Design, StockSource
from generator.model.edition import Stock
from generator.problems import ProblemLog, format_near_names
from generator.units import System

FILES = "sheets.yml, shared/boards.yml or shared/edgings"


def find_goods(
    design: Design, catalogue: Catalogue, system: System, log: ProblemLog
) -> tuple[tuple[Stock, ...], Mapping[str, Edging]]:
    """Return what parts are sawn from, and what edges are covered with by the maker's name for it.

    D205 for what is not in the catalogue, D207 for what is sold in the other edition, D209 for a
    part from edging and for an edge covered with a sheet.
    """
    found = {source.name: _find(source, catalogue, system, log) for source in design.stocks}
    edgings = {name: goods for name, goods in found.items() if isinstance(goods, Edging)}
    stocks = [
        Stock(name=source.name, goods=goods, place=source.place)
        for source in design.stocks
        if isinstance(goods := found[source.name], (Sheet, Board))
    ]
    _check_uses(design, [stock.name for stock in stocks], list(edgings), log)
    return tuple(stocks), edgings


def _find(
    source: StockSource, catalogue: Catalogue, system: System, log: ProblemLog
) -> Sheet | Board | Edging | None:
    sold: dict[str, Sheet | Board | Edging] = {
        **catalogue.sheets,
        **catalogue.boards,
        **catalogue.edgings,
    }
    key = source.imperial if system == "imperial" else source.metric
    place = source.places[0 if system == "imperial" else 1]
    goods = sold.get(key)
    if goods is None:
        known = [k for k, entry in sold.items() if entry.system == system]
        hint = format_near_names(key, known)
        log.add("D205", place, name=key, catalogue=FILES, hint=hint)
        return None
    if goods.system == system:
        return goods
    log.add(
        "D207",
        place,
        name=key,
        catalogue=_file_of(goods),
        other=goods.system,
        edition=system,
        hint="give one for each edition: {imperial: …, metric: …}",
    )
    return None


def _file_of(goods: Sheet | Board | Edging) -> str:
    if isinstance(goods, Edging):
        return "edgings"
    return "boards" if isinstance(goods, Board) else "sheets"


def _check_uses(design: Design, stocks: list[str], edgings: list[str], log: ProblemLog) -> None:
    for part in design.parts:
        if part.stock in edgings:
            log.add(
                "D209",
                part.stock_place,
                name=part.stock,
                found="edging",
                expected="a sheet or a board to saw the part from",
                hint=format_near_names(part.stock, stocks),
            )
        for _, name, place in part.edging:
            if name in stocks:
                log.add(
                    "D209",
                    place,
                    name=name,
                    found="a sheet or a board",
                    expected="edging",
                    hint="name an entry of shared/edgings.yml under `stock`; "
                    "what is thicker than 3 mm is a part of its own",
                )
