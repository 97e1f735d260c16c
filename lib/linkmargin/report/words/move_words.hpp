#pragma once

#include "linkmargin/report/words/wording.hpp"
#include "linkmargin/site/site.hpp"

#include <optional>
#include <string>

namespace linkmargin {

/// As the sheet lies.
enum class PlanDirection { right, left, up, down, up_right, up_left, down_right, down_left };

/// Which way something moves: toward a thing on site, else by a direction of the plan.
struct MoveWay {
  double distance_m = 0;
  std::optional<std::string> toward{};
  std::string on_plan{};  ///< "up and right on the plan"
  PlanDirection direction = PlanDirection::right;
};
MoveWay move_way(const Site& site, const Placement& from, const Placement& to);

/// "0.9 m toward 'hall door'": how far, and the nearest opening, hub or obstacle of the storey that lies that
/// way, a room where there is none, else a direction of the plan. Under 1 m in centimetres.
std::string move_words(const Site& site, const Placement& from, const Placement& to);

/// "90 cm towards the hall door", with the room where that is another one: "..., to shop (ground)".
std::string move_words(const Wording& wording, const Site& site, const Placement& from, const Placement& to);

/// "(4.3, 0.15)", with the room where it lies: "(4.3, 0.15) in 'shop'".
std::string place_words(const Site& site, const Placement& place);

}  // namespace linkmargin
