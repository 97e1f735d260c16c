#include "linkmargin/report/words/wording.hpp"

#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/site/layout/room_spot.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

std::string as_it_is(std::string_view name) {
  return std::string(name);
}

/// "on the bottom wall, 1.2 m from the left wall": by the walls that are nearest.
std::string within_room(const Wording& wording, const Polygon2& room, Point2 at) {
  constexpr double on_wall_m = 0.2;  // what hangs on a wall stands off its line by this at most
  const layout::FromWalls from = layout::from_walls(room, at);
  const auto side = [&](layout::Side of) {
    return wording.say("place.side." + std::string(layout::side_word(of)));
  };
  const auto metres = [&](double length_m) { return wording.number(std::round(10 * length_m) / 10, 1); };
  const std::string across = side(from.across);
  const std::string along = side(from.along);
  const bool on_across = from.across_m <= on_wall_m;
  const bool on_along = from.along_m <= on_wall_m;
  if (on_across && on_along) return wording.say("place.corner", {{"along", along}, {"across", across}});
  if (on_across || on_along) {
    return wording.say("place.on_wall", {{"wall", on_across ? across : along},
                                         {"distance", metres(on_across ? from.along_m : from.across_m)},
                                         {"from", on_across ? along : across}});
  }
  return wording.say("place.from_walls", {{"across_distance", metres(from.across_m)},
                                          {"across", across},
                                          {"along_distance", metres(from.along_m)},
                                          {"along", along}});
}

}  // namespace

const Typesetting kPlainText{as_it_is, " "};

std::string Wording::names(const std::vector<std::string>& chosen, std::size_t most) const {
  std::vector<std::string> texts;
  texts.reserve(chosen.size());
  for (const std::string& one : chosen) texts.push_back(name(one));
  return listed(texts, most);
}

std::string Wording::with_unit(double value, int decimals, std::string_view unit) const {
  return number(value, decimals) + std::string(typesetting_->space) + std::string(unit);
}

std::string Wording::with_unit(double value, std::string_view unit) const {
  return number(value) + std::string(typesetting_->space) + std::string(unit);
}

std::string Wording::length(double length_m) const {
  constexpr double metre = 0.995, two_centimetres = 0.0195;  // from there on rounded to them
  if (length_m >= metre) return with_unit(length_m, 1, "m");
  return with_unit(100 * length_m, length_m < two_centimetres ? 1 : 0, "cm");
}

std::string Wording::percent(double percent, double threshold) const {
  return number(whole_percent(percent, threshold), 0);
}

std::string Wording::chance(double probability) const {
  if (is_no_chance(probability)) return say("chance.least");
  if (is_certain(probability)) return say("chance.most");
  return say("chance.about", {{"count", number(whole_chance(probability), 0)}});
}

std::string Wording::chance_figure(double probability) const {
  if (is_no_chance(probability)) return "<1";
  if (is_certain(probability)) return ">99";
  return number(whole_chance(probability), 0);
}

std::string Wording::room(const Site& site, const Placement& place) const {
  const Storey& storey = site.storeys[place.storey];
  const Room* room = checks::room_at(storey, place.at);
  const Language::Place on{"storey", name(storey.name)};
  return room == nullptr ? say("place.outside", {on}) : say("place.room", {{"room", name(room->name)}, on});
}

std::string Wording::spot(Point2 at) const {
  const auto to_centimetre = [](double length_m) {
    return std::round(100 * length_m) / 100 + 0.0;
  };  // never -0
  return say("place.spot", {{"x", number(to_centimetre(at.x))}, {"y", number(to_centimetre(at.y))}});
}

std::string Wording::hub(const Site& site, std::string_view hub) const {
  if (std::ranges::find(site.repeaters, hub, &Repeater::name) != site.repeaters.end())
    return say("hub.repeater", {{"repeater", name(hub)}});
  return site.hubs.size() == 1 ? say("hub.only") : say("hub.named", {{"hub", name(hub)}});
}

std::string Wording::place(const Site& site, const Placement& place) const {
  const Room* in = checks::room_at(site.storeys[place.storey], place.at);
  const std::string height = number(place.height_m);
  if (in == nullptr)
    return say("place.at", {{"room", room(site, place)}, {"height", height}, {"spot", spot(place.at)}});
  return say("place.in_room", {{"room", room(site, place)},
                               {"where", within_room(*this, in->corners, place.at)},
                               {"height", height},
                               {"spot", spot(place.at)}});
}

}  // namespace linkmargin
