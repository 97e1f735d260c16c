#include "linkmargin/site/building.hpp"
#include "linkmargin/site/schema/construction_fields.hpp"

namespace linkmargin::schema {
namespace {

using enum Presence;

constexpr std::string_view kRectangle = "the shape: `[x, y, width, depth]` from its lower left corner";
constexpr std::string_view kCorners =
    "the shape: `[[x, y], ...]` in order, either way round, the first not repeated";

/// A shape takes two keys, of which one is given.
template <auto Shape>
Field<Holder<Shape>> rectangle_field(const Range& side) {
  return {"rect_m", rectangle_of<Shape>(side), one_of, kRectangle};
}
template <auto Shape>
Field<Holder<Shape>> corners_field(const Range& side) {
  return {"corners_m", corners_of<Shape>(side), one_of, kCorners};
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
      {"level_m", number<&Storey::level_m>(limits::kLevelM), required, "of its floor, above the site's zero"},
      {"height_m", number<&Storey::height_m>(limits::kStoreyHeightM), required,
       "clear height, floor to ceiling"},
      {"floor", made_of<&Storey::floor>(), optional, "the slab under this storey", "none"},
      {"roof", made_of<&Storey::roof>(), optional,
       "the slab over its rooms, wherever no room of the storey above lies on them", "none"},
      {"rooms", Part{"rooms", &limits::kRooms}, optional, "rooms by name; their edges become walls", "none"},
      {"outer_wall", made_of<&Storey::outer_wall>(), optional, "walls with a room on one side",
       "required with a room"},
      {"inner_wall", made_of<&Storey::inner_wall>(), optional, "walls between two rooms",
       "required with two rooms"},
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
      rectangle_field<&Room::corners>(limits::kRoomSideM),
      corners_field<&Room::corners>(limits::kRoomSideM),
      {"keep_out", on_or_off<&Room::keep_out>(), optional,
       "no hub and no repeater is proposed here: a strong room, a wet room", "", kNotByEdit},
      {"roof", made_of<&Room::roof>(), optional, "the slab over this room", "the storey's"}};
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
      {"between", Part{"between"}, one_of, "the two rooms, or a room and `outside`, whose wall it is in"},
      {"wall", name<&Opening::wall>(), one_of, "the traced wall that it is in", "", kNotByEdit},
      {"at_m", point<&Opening::at>(), required,
       "`[x, y]` of its middle, on the line of the wall (within 15 cm)"},
      {"width_m", number<&Opening::width_m>(limits::kOpeningWidthM), required,
       "its width; must fit the wall"},
      {"sill_m", number<&Opening::sill_m>(limits::kSillM), optional,
       "lower edge above the floor of the storey"},
      {"height_m", number<&Opening::height_m>(limits::kHeightM), required,
       "from sill to head; must fit under the top of the wall"},
      {"leaf", name<&Opening::leaf, &Construction::material>(), required,
       "the material that closes it, or `none` for a hole"},
      {"leaf_thickness_m", number<&Opening::leaf, &Construction::thickness_m>(limits::kThicknessM), optional,
       "required when the leaf's material is electrical", "none"},
      {"opens", on_or_off<&Opening::opens>(), optional,
       "`off`: fixed glazing, which stays when doors are open"}};
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
