#include "linkmargin/report/material_groups.hpp"

#include <algorithm>
#include <iterator>

namespace linkmargin {
namespace {

constexpr MaterialGroupWords kWords[] = {
    {"light partition",
     "`stud wall` for two boards on timber studs as it stands in a house, `steel stud wall` where "
     "the studs are sheet steel, `lath and plaster` in an old house. `board partition` is two "
     "bare boards and air, `light wall` was fitted to whole offices.",
     "Studs, pipes, wiring and insulation differ from wall to wall; the boards themselves lose "
     "under 1 dB."},
    {"timber wall",
     "`timber wall` for the outer wall of a wooden house, `solid timber` for planks or logs of "
     "some 8 cm, `chipboard`, `plywood` or `wood` with its thickness for a single board.",
     "Moisture: wet timber loses several times what dry timber does, and the properties of ITU-R "
     "are those of dry wood."},
    {"brick wall",
     "`brick` with its thickness, `cavity wall` for two leaves of brick, `lined brick wall` where "
     "boards stand before one, `tiled wall` for tiles on masonry, `brick-faced block` for brick "
     "before dense concrete block, `heavy wall` where you only know that it is solid.",
     "Bricks differ by density and water. The properties of ITU-R are stated from 1 GHz on and "
     "are those of bare dry brick; walls of 9, 18 and 27 cm were measured at 3.5, 5 and 7 dB "
     "(NISTIR 6055, from memory), about 1 dB more than computed."},
    {"block wall",
     "`aerated block` for light grey blocks that a saw cuts, `masonry block` for concrete blocks "
     "of 20 cm, `concrete block wall` for the same by another measurement, `thick masonry block` "
     "from half a metre on.",
     "Density: an aerated block weighs a quarter of a dense one. Filled cores, mortar and render "
     "add."},
    {"concrete wall",
     "`concrete wall` where you know no more, `concrete` with its thickness for old dry concrete "
     "with little steel, `precast concrete` for the slabs of a large building, `fresh concrete "
     "wall` in its first years, `reinforced concrete` for a core or a shelter. The two of a "
     "facade hold its windows. `office concrete wall` was fitted to whole offices and is low for "
     "one wall.",
     "Age and water: young concrete loses three to four times what dry concrete does. Steel mats "
     "add, the more the closer their meshes."},
    {"stone wall",
     "`stone` up to some 40 cm, `thick stone` from half a metre on, `cellar wall` with earth "
     "behind it, `marble` for a slab with its thickness.",
     "Thickness and water, which are not in the figure; few walls of stone were measured."},
    {"foil in a wall",
     "`foil insulation` for loose rolls with gaps, `foil-faced board` for insulation boards with "
     "taped joints, `foil-backed plasterboard` for a vapour barrier, `wire lath plaster` for "
     "render on a metal mesh.",
     "The joints decide, not the foil: an unbroken one would let nothing through."},
    {"metal wall",
     "`metal wall` where you know no more, `corrugated steel wall` for the single sheet of a "
     "shed, `insulated metal panel` or `steel sandwich panel` for two sheets with foam, "
     "`aluminium siding` for cladding, `expanded metal` for a cage, `cold store` and `lift shaft` "
     "for the whole box.",
     "Seams, seals and gaps let through what the sheet does not; no two buildings have the same."},
    {"fence",
     "`timber fence` or `steel mesh fence`.",
     "Openings against the wavelength, and water on timber."},
    {"door",
     "`timber door` for one between rooms, `solid timber door` for the front door, `glazed door` "
     "where plain glass fills most of it, `fire door` for a heavy one with a timber core, "
     "`plastic door` (which may hide steel), `timber garage door`, `roller grille` for open "
     "links.",
     "The core, and steel hidden in frame and edges."},
    {"metal door",
     "`steel door` for one leaf, `steel fire door` for a heavy sealed one, `garage door` for the "
     "single sheet, `sectional door` for insulated sections, `roller shutter` and `aluminium "
     "shutter` for slats, `sheet-steel gate` in the open, `lift door`.",
     "The gap round the leaf: a seal of rubber or brush makes 10 dB of difference."},
    {"plain glass",
     "`double glazing` for plain panes, `single glazing`, `shop window` for thick plain glass, "
     "`wired glass`, `metal-framed glazing` for many bars, `glass block`, `metal blind` for "
     "closed slats. `bare double glazing` is panes without a frame.",
     "Frame and bars; whether a pane is coated cannot be told at a glance: panes sold in this "
     "century mostly are, see dense glass."},
    {"dense glass",
     "`coated glazing` for two panes that keep heat in, `coated triple glazing`, `low-e glazing` "
     "for the same by another measurement, `coated glazed door`, `sun-control film` for a "
     "metallised film on plain glass, `mirror`.",
     "The coating is metal, but the frame and the wall beside the pane let through: single "
     "windows were measured from 20 to 50 dB."},
    {"timber floor",
     "`timber floor` between storeys of a house, `tiled roof`, `flat felt roof` on a timber deck, "
     "`ceiling board` with its thickness.",
     "Screed, tiles, pipes and foil in the floor; a roof with foil-faced insulation is `metal "
     "roof`."},
    {"concrete floor",
     "`concrete floor` where you know no more, `hollow-block floor` in a house of masonry, "
     "`office floor` by ITU-R for offices. `heavy floor` belongs to the model `multi_wall`.",
     "Thickness, steel and screed; each further floor costs less than the first, because signals "
     "go round."},
    {"metal floor",
     "`composite deck floor` for concrete on a steel sheet, `raised floor` and `metal ceiling` "
     "for steel pans and trays (the slab comes on top), `metal roof`, `sheet-metal floor`.",
     "Seams, lamps and edges let through what the sheet does not."},
    {"masonry body",
     "`chimney breast` or `reinforced pillar`.",
     "Size against the wavelength, and what goes round it."},
    {"machine",
     "The row that comes nearest; `steel cabinet` for a closed box of sheet steel, `light "
     "machinery` where you see through it.",
     "Size, and what goes round: small ones cost less than they shut out."},
    {"furniture",
     "`steel rack` for mixed goods, `loaded steel rack` for metal or liquids, `book shelves`, "
     "`timber stack`, `ladder rack` and `machine guard` for bars and meshes.",
     "What is on the shelves, which changes from day to day."},
    {"vehicle or person",
     "`car`, `van`, `container`, `person`, `hedge`.",
     "Size and place: they come and go."}};

}  // namespace

const MaterialGroupWords* material_group_words(std::string_view group) {
  const auto* found = std::ranges::find(kWords, group, &MaterialGroupWords::group);
  return found == std::end(kWords) ? nullptr : found;
}

}  // namespace linkmargin
