#include "linkmargin/report/words/wording.hpp"

#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/site/mounting/hanging_spot.hpp"
#include "linkmargin/site/sheet_side.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

std::string as_it_is(std::string_view name) {
  return std::string(name);
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
  if (language_->length_unit() == LengthUnit::foot) return feet_text(length_m, length_m < 1 ? 2 : 1);
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
  const double unit_m = metres_in(language_->length_unit());
  const auto to_centimetre = [unit_m](double length_m) {
    return std::round(100 * length_m / unit_m) / 100 + 0.0;
  };  // never -0
  return say("place.spot", {{"x", number(to_centimetre(at.x))}, {"y", number(to_centimetre(at.y))}});
}

std::string Wording::hub(const Site& site, std::string_view hub) const {
  if (std::ranges::find(site.repeaters, hub, &Repeater::name) != site.repeaters.end())
    return say("hub.repeater", {{"repeater", name(hub)}});
  return site.hubs.size() == 1 ? say("hub.only") : say("hub.named", {{"hub", name(hub)}});
}

std::string Wording::place(const Site& site, const Placement& place) const {
  return say("place.at",
             {{"room", room(site, place)}, {"where", where(site, place)}, {"spot", spot(place.at)}});
}

namespace {

/// Nearer than half a centimetre nobody measures from a corner.
constexpr double kInCornerM = 0.005;

}  // namespace

std::string Wording::where(const Site& site, const Placement& place) const {
  const HangingSpot hangs = hanging_spot(site, place);
  const Language::Place height{"height", language_->length(place.height_m)};
  if (const auto* on = std::get_if<OnWall>(&hangs)) {
    const std::string wall(side_word(on->spot.wall));
    const std::string corner(side_word(on->spot.from));
    const Language::Place named{"wall", say((on->only ? "place.wall." : "place.one_wall.") + wall)};
    if (on->board_m > 0)
      return say("place.on_board", {named,
                                    {"off", length(on->board_m)},
                                    {"far", length(on->spot.distance_m)},
                                    {"corner", say("place.corner." + corner)},
                                    height});
    if (on->spot.distance_m < kInCornerM)
      return say("place.in_corner", {named, {"corner", say("place.by_corner." + corner)}, height});
    return say(
        "place.on_wall",
        {named, {"far", length(on->spot.distance_m)}, {"corner", say("place.corner." + corner)}, height});
  }
  if (const auto* on = std::get_if<OnTracedWall>(&hangs))
    return say("place.on_traced", {{"wall", name(on->wall)}, height});
  if (const auto* on = std::get_if<OnFrame>(&hangs))
    return say("place.on_frame", {{"opening", name(on->opening)}, height});
  if (const auto* on = std::get_if<OnCeiling>(&hangs)) {
    const auto wall = [&](SheetSide side) { return say("place.from_wall." + std::string(side_word(side))); };
    return say("place.on_ceiling", {{"across", length(on->across_m)},
                                    {"across_wall", wall(on->across)},
                                    {"up", length(on->up_m)},
                                    {"up_wall", wall(on->up)}});
  }
  if (std::holds_alternative<OnFloor>(hangs)) return say("place.on_floor");
  return say("place.up", {height});
}

}  // namespace linkmargin
