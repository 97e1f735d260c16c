#include "linkmargin/site/edit/edit_keys.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/radio.hpp"

namespace linkmargin::edits {
namespace {

template <typename Radio>
EditKey<Radio> profile_key() {
  return {"profile", NameKey<Radio>{[](Radio& radio, const std::string& name) { radio.profile = name; }}};
}

template <typename Radio>
EditKey<Radio> at_key() {
  return {"at_m", PointKey<Radio>{[](Radio& radio, Point2 at) { radio.place.at = at; }}};
}

template <typename Radio>
EditKey<Radio> height_key() {
  return {"height_m", NumberKey<Radio>{&limits::kRadioHeightM, [](Radio& radio, double height_m) {
                                         radio.place.height_m = height_m;
                                       }}};
}

template <typename Radio>
EditKey<Radio> storey_key() {
  return {"storey", StoreyKey<Radio>{[](Radio& radio, std::size_t storey) { radio.place.storey = storey; }}};
}

template <typename Radio>
EditKey<Radio> near_mains_key() {
  return {"near_mains_m", NumberKey<Radio>{&limits::kNearMainsM,
                                           [](Radio& radio, double near_m) { radio.near_mains_m = near_m; }}};
}

template <typename Served>
EditKey<Served> hub_key() {
  return {"hub", NameKey<Served>{[](Served& served, const std::string& name) { served.hub = name; }}};
}

template <typename Served>
EditKey<Served> slots_key() {
  return {"slots", NumberKey<Served>{
                       &limits::kSlots,
                       [](Served& served, double slots) { served.slots = static_cast<int>(slots); }, true}};
}

}  // namespace

template <>
std::span<const EditKey<Hub>> edit_keys() {
  static const EditKey<Hub> keys[] = {profile_key<Hub>(), storey_key<Hub>(), at_key<Hub>(), height_key<Hub>(),
                                      near_mains_key<Hub>()};
  return keys;
}

template <>
std::span<const EditKey<Repeater>> edit_keys() {
  static const EditKey<Repeater> keys[] = {profile_key<Repeater>(), storey_key<Repeater>(),
                                           at_key<Repeater>(), height_key<Repeater>(),
                                           near_mains_key<Repeater>()};
  return keys;
}

template <>
std::span<const EditKey<Device>> edit_keys() {
  static const EditKey<Device> keys[] = {
      profile_key<Device>(),
      storey_key<Device>(),
      at_key<Device>(),
      height_key<Device>(),
      hub_key<Device>(),
      slots_key<Device>(),
      {"mount_loss_db",
       NumberKey<Device>{&limits::kBodyLossDb, [](Device& d, double db) { d.mount_loss_db = db; }}},
      {"body_loss_db",
       NumberKey<Device>{&limits::kBodyLossDb, [](Device& d, double db) { d.body_loss_db = db; }}}};
  return keys;
}

template <>
std::span<const EditKey<Mount>> edit_keys() {
  static const EditKey<Mount> keys[] = {
      {"gap_m", NumberKey<Mount>{&limits::kMountGapM, [](Mount& m, double gap_m) { m.gap_m = gap_m; }}},
      {"faces_deg", NumberKey<Mount>{&limits::kBearingDeg, [](Mount& m, double deg) { m.faces_deg = deg; }}}};
  return keys;
}

template <>
std::span<const EditKey<Area>> edit_keys() {
  static const EditKey<Area> keys[] = {
      profile_key<Area>(),
      {"storey", StoreyKey<Area>{[](Area& area, std::size_t storey) { area.storey = storey; }}},
      {"height_m",
       NumberKey<Area>{&limits::kRadioHeightM, [](Area& a, double height_m) { a.height_m = height_m; }}},
      {"share_percent",
       NumberKey<Area>{&limits::kPercent, [](Area& a, double share) { a.share_percent = share; }}},
      slots_key<Area>(),
      hub_key<Area>()};
  return keys;
}

}  // namespace linkmargin::edits
