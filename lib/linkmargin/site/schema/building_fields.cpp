#include "linkmargin/site/building.hpp"
#include "linkmargin/site/schema/construction_fields.hpp"

namespace linkmargin::schema {
namespace {

using enum Presence;

constexpr std::string_view kRectangle = "the shape: `[x, y, width, depth]` from its lower left corner";
constexpr EnumName<RoomUse> kUseWords[] = {{"ordinary", RoomUse::ordinary}, {"wet", RoomUse::wet}};

constexpr std::string_view kCorners =
    "the shape: `[[x, y], ...]` in order, either way round, the first not repeated";

/// A shape takes two keys, of which one is given.
template <auto Shape>
Field<Holder<Shape>> rectangle_field(const Range& side, Presence presence = one_of) {
  return {"rect_m", rectangle_of<Shape>(side), presence, kRectangle};
}
template <auto Shape>
Field<Holder<Shape>> corners_field(const Range& side, Presence presence = one_of) {
  return {"corners_m", corners_of<Shape>(side), presence, kCorners};
}

template <auto Name>
Field<Holder<Name>> name_field() {
  return {"name", own_name<Name>(), required, "its name"};
}

}  // namespace

template <>
std::span<const Field<Construction>> fields() {
  static const Field<Construction> rows[] = {
      material_field<>("a name of the tables or of this file, or `none`"), thickness_field<>()};
  return rows;
}

template <>
std::span<const Field<Storey>> fields() {
  const auto list = [](const char* form) { return Part{form, &limits::kFixtures}; };
  static const Field<Storey> rows[] = {
      name_field<&Storey::name>(),
      {"level_m", number<&Storey::level_m>(limits::kLevelM), optional, "of its floor, above the site's zero",
       "follows from the storey below; the first has 0"},
      {"height_m", number<&Storey::height_m>(limits::kStoreyHeightM), required,
       "clear height, floor to ceiling"},
      {"construction", Part{"house"}, optional,
       "what this storey is built of, where it differs from the house", "the house's"},
      {"floor", made_of<&Storey::floor>(), optional, "the slab under this storey", "none"},
      {"roof", made_of<&Storey::roof>(), optional,
       "the slab over its rooms, wherever no room of the storey above lies on them", "none"},
      {"measured", Part{"measured"}, optional,
       "where sizes of rooms count to: the `middle` of the walls, or `inside`, between the walls",
       "the house's"},
      {"grid", Part{"grid"}, optional, "rooms as rows, from front to back", "none"},
      {"rooms", Part{"rooms", &limits::kRooms}, optional, "rooms by name; their edges become walls", "none"},
      {"outer_wall", made_of<&Storey::outer_wall>(), optional, "walls with a room on one side",
       "the house's; required with a room, unless a `construction` is given"},
      {"inner_wall", made_of<&Storey::inner_wall>(), optional, "walls between two rooms",
       "the house's; required with two rooms, unless a `construction` is given"},
      {"boundaries", list("boundaries"), optional, "list: where the wall between two rooms differs", "none"},
      {"walls", list("walls"), optional, "list: traced walls that belong to no room", "none"},
      {"openings", list("openings"), optional, "list: doors, windows, shutters, holes in walls", "none"},
      {"obstacles", list("obstacles"), optional, "list: things in the way", "none"},
      {"floor_openings", list("floor_openings"), optional, "list: holes in the slab under this storey",
       "none"}};
  return rows;
}

template <>
std::span<const Field<Room>> fields() {
  static const Field<Room> rows[] = {
      {"size_m", Part{"size_m", &limits::kRoomSideM}, alternative,
       "`[width, depth]`; the place follows from a neighbour"},
      rectangle_field<&Room::corners>(limits::kRoomSideM, alternative),
      corners_field<&Room::corners>(limits::kRoomSideM, alternative),
      {"left_of", Part{"room"}, optional, "with `size_m`: it stands on the left of this room", "none"},
      {"right_of", Part{"room"}, optional, "the same on the right", "none"},
      {"above", Part{"room"}, optional, "the same up the sheet", "none"},
      {"below", Part{"room"}, optional, "the same down the sheet", "none"},
      {"over", Part{"rooms_below"}, optional,
       "room of the storey below, or a list of them; without `size_m` it has their shape", "none"},
      {"flush", Part{"flush"}, optional, "which of its edges lies level with the neighbour's",
       "`left` of a room above, below or over another, `bottom` of any other"},
      {"shift_m", Part{"shift_m"}, optional,
       "then so far to the right or up; with `over` `[to the right, up]`", "0"},
      {"gap_m", Length{&limits::kGapM}, optional, "so far from its neighbour", "0"},
      {"front_m", Length{&limits::kPlanCoordinateM}, optional,
       "with `left_of` or `right_of`: its front (bottom edge) so far up from the neighbour's", "0"},
      {"outer_wall", Part{"construction"}, optional, "its walls to the outside", "the storey's"},
      {"inner_wall", Part{"construction"}, optional, "its walls to other rooms", "the storey's"},
      {"walls", Part{"construction"}, optional, "all its walls, where those two keys say nothing else",
       "the storey's"},
      {"keep_out", on_or_off<&Room::keep_out>(), optional,
       "no hub and no repeater is proposed here: a strong room", "", kNotByEdit},
      {"use", word<kUseWords, &Room::use>(), optional,
       "`wet`: a bathroom or a wash room, into which nothing is moved from elsewhere",
       "`wet` where its name says so (`bathroom`, `WC`) and no socket is listed, else `ordinary`",
       kNotByEdit},
      {"sockets", Part{"sockets", &limits::kSockets}, optional,
       "mains sockets: what needs mains is proposed near them; `[]`: there is none", "not known"},
      {"ceiling", Part{"construction"}, optional,
       "the slab over this room, also where rooms of the storey above lie on it: their floor, if they say "
       "none",
       "the storey's `roof`, or the floor of the rooms above"},
      {"roof", made_of<&Room::roof>(), optional, "the slab over this room where no room lies on it",
       "the storey's"},
      {"floor", made_of<&Room::floor>(), optional, "the slab under this room", "the storey's"}};
  return rows;
}

template <>
std::span<const Field<Boundary>> fields() {
  static const Field<Boundary> rows[] = {
      {"between", Part{"between"}, required, "two rooms, or a room and `outside`"},
      material_field<&Boundary::construction>("what stands there; `none` is open plan"),
      thickness_field<&Boundary::construction>()};
  return rows;
}

template <>
std::span<const Field<TracedWall>> fields() {
  using Wall = TracedWall;
  static const Field<Wall> rows[] = {
      name_field<&Wall::name>(),
      {"from_m", point<&Wall::line, &Segment2::a>(), required, "one end, `[x, y]`"},
      {"to_m", point<&Wall::line, &Segment2::b>(), required, "the other end, `[x, y]`"},
      material_field<&Wall::construction>("what it is made of"),
      thickness_field<&Wall::construction>(),
      {"height_m", number<&Wall::height_m>(limits::kHeightM), optional, "from the floor of the storey",
       "to the ceiling"}};
  return rows;
}

template <>
std::span<const Field<Opening>> fields() {
  static const Field<Opening> rows[] = {
      name_field<&Opening::name>(),
      {"kind", Part{"opening_kind"}, optional,
       "such as `front door`: width, sill, height, leaf and `opens` where they are not given", "none"},
      {"between", Part{"between"}, alternative,
       "the two rooms, or a room and `outside`, whose wall it is in"},
      {"in", Part{"room"}, alternative, "the room whose wall it is in; `wall` says which"},
      {"wall", name<&Opening::wall>(), alternative,
       "with `in` `left`, `right`, `bottom` or `top`; alone the traced wall that it is in", "", kNotByEdit},
      {"at_m", point<&Opening::at>(), optional,
       "`[x, y]` of its middle, on the line of the wall (within 15 cm)", "the middle of the wall"},
      {"from_left_m", Length{&limits::kFromEndM}, optional,
       "of a wall along x: from its left end to the nearer edge of the opening", "the middle of the wall"},
      {"from_right_m", Length{&limits::kFromEndM}, optional, "the same from its right end",
       "the middle of the wall"},
      {"from_bottom_m", Length{&limits::kFromEndM}, optional,
       "the same of a wall along y, from its bottom end", "the middle of the wall"},
      {"from_top_m", Length{&limits::kFromEndM}, optional, "the same from its top end",
       "the middle of the wall"},
      {"width_m", number<&Opening::width_m>(limits::kOpeningWidthM), optional, "its width; must fit the wall",
       "the kind's; required without one"},
      {"sill_m", number<&Opening::sill_m>(limits::kSillM), optional,
       "lower edge above the floor of the storey", "the kind's, else 0"},
      {"height_m", number<&Opening::height_m>(limits::kHeightM), optional,
       "from sill to head; must fit under the top of the wall", "the kind's; required without one"},
      {"leaf", name<&Opening::leaf, &Construction::material>(), optional,
       "the material that closes it, or `none` for a hole", "the kind's; required without one"},
      {"leaf_thickness_m", number<&Opening::leaf, &Construction::thickness_m>(limits::kThicknessM), optional,
       "required when the leaf's material is electrical", "none"},
      {"opens", on_or_off<&Opening::opens>(), optional,
       "`off`: fixed glazing, which stays when doors are open", "the kind's, else `on`"}};
  return rows;
}

template <>
std::span<const Field<Obstacle>> fields() {
  static const Field<Obstacle> rows[] = {
      name_field<&Obstacle::name>(),
      rectangle_field<&Obstacle::corners>(limits::kObstacleSideM),
      corners_field<&Obstacle::corners>(limits::kObstacleSideM),
      {"base_m", number<&Obstacle::base_m>(limits::kSillM), optional,
       "its underside above the floor of the storey"},
      {"height_m", number<&Obstacle::height_m>(limits::kHeightM), required, "from its underside to its top"},
      material_field<&Obstacle::construction>("what it is made of"),
      thickness_field<&Obstacle::construction>()};
  return rows;
}

template <>
std::span<const Field<FloorOpening>> fields() {
  using Hole = FloorOpening;
  static const Field<Hole> rows[] = {name_field<&Hole::name>(),
                                     rectangle_field<&Hole::corners>(limits::kFloorOpeningSideM),
                                     corners_field<&Hole::corners>(limits::kFloorOpeningSideM)};
  return rows;
}

}  // namespace linkmargin::schema
