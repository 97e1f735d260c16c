#include "linkmargin/site/radio.hpp"
#include "linkmargin/site/schema/placed_fields.hpp"

namespace linkmargin::schema {
namespace {

using enum Presence;

constexpr EnumName<RepeaterServes> kServesWords[] = {
    {"all", RepeaterServes::all}, {"devices", RepeaterServes::devices}, {"areas", RepeaterServes::areas}};

constexpr EnumName<Mount::On> kMountWords[] = {{"metal", Mount::On::metal}};

constexpr std::string_view kProfileByName =
    "the one that its name ends in; a hub: `hub`, a repeater: `repeater`";

template <typename Radio>
Field<Radio> may_move_field() {
  return {"may_move", Part{"may_move"}, optional, "how far it may be moved",
          "a hub: within its room; others stay"};
}

template <typename Radio>
Field<Radio> cable_field() {
  return {"cable_m", number<&Radio::cable_m>(limits::kCableM), optional,
          "how far along the wall, in plan, it may hang from a socket of its room"};
}

template <typename Radio>
Field<Radio> mount_field() {
  return {"mount", Part{"mount"}, optional, "the metal that it is fixed on", "no metal near"};
}

template <typename Radio>
Field<Radio> fixed_field() {
  return {"fixed", on_or_off<&Radio::fixed>(), optional, "it stays, whatever else is placed", "", kNotByEdit};
}

template <typename Reach>
const Reach* reach(const Mobility& mobility) {
  return std::get_if<Reach>(&mobility.reach);
}

}  // namespace

template <>
std::span<const Field<Hub>> fields() {
  static const Field<Hub> rows[] = {
      or_short(profile_field<&Hub::profile>(), kProfileByName),
      or_short(storey_field(storey<&Hub::place, &Placement::storey>()), "that of the room or opening"),
      in_field<Hub>(),
      on_field<Hub>(),
      spot_field<Hub>(),
      or_short(at_field<&Hub::place, &Placement::at>(), "required without `in` and `on`"),
      or_short(radio_height_field<&Hub::place, &Placement::height_m>(), "the profile's"),
      capacity_field<&Hub::capacity>(),
      may_move_field<Hub>(),
      cable_field<Hub>(),
      mount_field<Hub>(),
      fixed_field<Hub>()};
  return rows;
}

template <>
std::span<const Field<Repeater>> fields() {
  static const Field<Repeater> rows[] = {
      or_short(profile_field<&Repeater::profile>(), kProfileByName),
      or_short(storey_field(storey<&Repeater::place, &Placement::storey>()), "that of the room or opening"),
      in_field<Repeater>(),
      on_field<Repeater>(),
      spot_field<Repeater>(),
      or_short(at_field<&Repeater::place, &Placement::at>(), "required without `in` and `on`"),
      or_short(radio_height_field<&Repeater::place, &Placement::height_m>(), "the profile's"),
      capacity_field<&Repeater::capacity>(),
      hub_field<&Repeater::hub>(),
      via_field<&Repeater::via>(),
      {"serves", word<kServesWords, &Repeater::serves>(), optional,
       "what may be enrolled at it: all, `devices` but no remotes of areas, or `areas` alone"},
      may_move_field<Repeater>(),
      cable_field<Repeater>(),
      mount_field<Repeater>(),
      fixed_field<Repeater>()};
  return rows;
}

template <>
std::span<const Field<Device>> fields() {
  static const Field<Device> rows[] = {
      or_short(profile_field<&Device::profile>(), kProfileByName),
      or_short(storey_field(storey<&Device::place, &Placement::storey>()), "that of the room or opening"),
      in_field<Device>(),
      on_field<Device>(),
      spot_field<Device>(),
      or_short(at_field<&Device::place, &Placement::at>(), "required without `in` and `on`"),
      or_short(radio_height_field<&Device::place, &Placement::height_m>(), "the profile's"),
      hub_field<&Device::hub>(),
      via_field<&Device::via>(),
      slots_field<&Device::slots>(),
      may_move_field<Device>(),
      mount_loss_field<&Device::mount_loss_db>(),
      {"body_loss_db", number<&Device::body_loss_db>(limits::kBodyLossDb), optional,
       "loss of a hand or body at the device, both directions, instead of the profile's", "the profile's"},
      mount_field<Device>(),
      {"note", text<&Device::note>(), optional, "free text", "none"}};
  return rows;
}

template <>
std::span<const Field<Area>> fields() {
  static const Field<Area> rows[] = {
      or_short(profile_field<&Area::profile>(), kProfileByName),
      or_short(storey_field(storey<&Area::storey>()), "that of its room; needed with coordinates"),
      {"in", Part{"rooms_below"}, alternative,
       "the room that it is, or a list of rooms of one storey; `house` for all rooms that it has"},
      {"size_m", Part{"size_m", &limits::kRoomSideM}, alternative,
       "`[width, depth]`; the place follows from a room"},
      {"rect_m", rectangle_of<&Area::corners>(limits::kAreaSideM), alternative,
       "the shape: `[x, y, width, depth]`"},
      {"corners_m", corners_of<&Area::corners>(limits::kAreaSideM), alternative,
       "the shape: `[[x, y], ...]`"},
      {"left_of", Part{"room"}, optional,
       "with `size_m`: it lies on the left of this room, or of the `house`", "none"},
      {"right_of", Part{"room"}, optional, "the same on the right", "none"},
      {"above", Part{"room"}, optional, "the same up the sheet", "none"},
      {"below", Part{"room"}, optional, "the same down the sheet: in front of it", "none"},
      {"shift_m", Length{&limits::kPlanCoordinateM}, optional, "then so far to the right or up", "0"},
      {"height_m", number<&Area::height_m>(limits::kRadioHeightM), optional,
       "where the remote is held, above the floor of the storey"},
      {"share_percent", number<&Area::share_percent>(limits::kPercent), optional,
       "share of the area in which a remote must work"},
      slots_field<&Area::slots>(),
      hub_field<&Area::hub>()};
  return rows;
}

template <>
std::span<const Field<Mount>> fields() {
  static const Field<Mount> rows[] = {
      {"on", word<kMountWords, &Mount::on>(), required, "what is behind it", "", kNotByEdit},
      {"gap_m", number<&Mount::gap_m>(limits::kMountGapM), required,
       "from the metal to the middle of the antenna, not of the housing"},
      {"faces_deg", number<&Mount::faces_deg>(limits::kBearingDeg), optional,
       "where in plan the metal faces the room, counter-clockwise from x: 0 to the right, 90 up the sheet",
       "not known"}};
  return rows;
}

template <>
std::span<const Field<Mobility>> fields() {
  using Radius = Mobility::Radius;
  using WithinRoom = Mobility::WithinRoom;
  using Within = Mobility::Within;
  static const Field<Mobility> rows[] = {
      {"radius_m",
       Number<Mobility>{&limits::kMoveM,
                        [](const Mobility& m) {
                          return reach<Radius>(m) != nullptr ? std::optional(reach<Radius>(m)->radius_m)
                                                             : std::nullopt;
                        },
                        [](Mobility& m, double radius_m) { m.reach = Radius{radius_m}; }},
       one_of, "anywhere within this distance"},
      {"along_m", Part{"line_m", &limits::kLinePoints}, one_of, "along this line: `[[x, y], ...]`"},
      {"within",
       Name<Mobility>{[](const Mobility& m) {
                        return reach<WithinRoom>(m) != nullptr ? reach<WithinRoom>(m)->room : "";
                      },
                      [](Mobility& m, const std::string& room) { m.reach = WithinRoom{room}; }},
       one_of, "anywhere in this room, or `house`: in all rooms of its storey but those that stand by it"},
      {"within_m",
       Corners<Mobility>{&limits::kAreaSideM,
                         [](Mobility& m, Polygon2 corners) { m.reach = Within{std::move(corners)}; },
                         [](const Mobility& m) { return reach<Within>(m) != nullptr; }},
       one_of, "anywhere within these corners: `[[x, y], ...]`"}};
  return rows;
}

}  // namespace linkmargin::schema
