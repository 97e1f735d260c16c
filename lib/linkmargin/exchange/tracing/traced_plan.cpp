#include "linkmargin/exchange/tracing/traced_plan.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/exchange/tracing/room_names.hpp"
#include "linkmargin/exchange/tracing/storey_tracer.hpp"
#include "linkmargin/geometry/box.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/text/faults.hpp"
#include "linkmargin/text/name_flaw.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace linkmargin::exchange {
namespace {

/// Plans farther from the origin are brought to it.
constexpr double kFarM = 100;

using Roles = std::vector<std::optional<LayerRole>>;

class PlanTracer {
 public:
  PlanTracer(std::vector<Drawing> drawings, const std::optional<LayerMap>& layers, Faults& faults)
      : drawings_(std::move(drawings)),
        given_(layers.has_value()),
        map_(layers ? *layers : common_layer_words()),
        faults_(faults) {}

  TracedPlan trace() {
    find_roles();
    if (faults_.empty()) bring_near();
    for (std::size_t i = 0; i < drawings_.size() && faults_.empty(); ++i) {
      auto storey = traced_storey(drawings_[i], roles_[i], plan_, faults_);
      for (const auto& [what, count] : drawings_[i].dropped) plan_.dropped[what] += count;
      std::ranges::copy(drawings_[i].undecoded_lines, std::back_inserter(plan_.undecoded_lines));
      if (storey && !storey->rooms.empty()) plan_.storeys.push_back(std::move(*storey));
    }
    if (faults_.empty() && plan_.storeys.empty()) {
      faults_.add({}, DiagnosticCode::missing_key, "", "no closed room was found on " + wall_layers(),
                  "walls must meet, gaps between them be no wider than a door; --layers says which layers "
                  "hold walls, doors and windows");
    }
    name_storeys();
    check_levels();
    if (!drawings_.empty()) plan_.unit_m = drawings_.front().unit_m.value_or(1);
    return std::move(plan_);
  }

 private:
  /// Each has a name of its own; a number alone would be read as one.
  void name_storeys() {
    std::vector<std::string> taken;
    for (std::size_t i = 0; i < plan_.storeys.size(); ++i) {
      std::string& name = plan_.storeys[i].name;
      if (parse_number(name)) name = "level " + name;
      if (name.empty() || name.size() > kMaxNameBytes / 2 || !name_flaw(name, name).empty())
        name = i == 0 ? "ground" : "level " + std::to_string(i);
      name = fresh_name(name, taken);
    }
  }

  /// Levels that do not stand on each other are left to follow from the heights.
  void check_levels() {
    bool sound = true;
    for (std::size_t i = 0; i < plan_.storeys.size(); ++i) {
      TracedStorey& storey = plan_.storeys[i];
      if (storey.height_m && !limits::kStoreyHeightM.contains(*storey.height_m)) storey.height_m.reset();
      sound = sound && storey.level_m && limits::kLevelM.contains(*storey.level_m);
      if (i == 0 || !sound) continue;
      const TracedStorey& below = plan_.storeys[i - 1];
      sound = *storey.level_m >= *below.level_m + below.height_m.value_or(kStoreyHeightM);
    }
    for (TracedStorey& storey : plan_.storeys) {
      if (!sound) storey.level_m.reset();
    }
  }

  void find_roles() {
    std::set<std::string> all;
    bool lines_anywhere = false, any_walls = false;
    for (const Drawing& drawing : drawings_) {
      Roles& roles = roles_.emplace_back();
      for (const std::string& layer : drawing.layers) {
        roles.push_back(role_of(map_, layer));
        all.insert(layer);
        note_role(layer, roles.back());
      }
      for (const DrawnLine& line : drawing.lines) {
        lines_anywhere = true;
        const auto role = roles[line.layer];
        any_walls = any_walls || role == LayerRole::walls || (role == LayerRole::rooms && line.closed);
      }
    }
    if (given_) {
      for (const LayerPattern& one : map_.patterns) {
        const bool fits = std::ranges::any_of(
            all, [&](const std::string& layer) { return fits_pattern(one.pattern, layer); });
        if (!fits) plan_.unused_patterns.push_back(one.pattern);
      }
    }
    if (any_walls) return;
    if (!given_ && lines_anywhere && take_only_layer()) return;
    faults_.add({}, DiagnosticCode::missing_key, "",
                lines_anywhere ? "none of the layers is known as one of walls or rooms: " + list(all)
                               : "the drawing has no lines",
                lines_anywhere ? "say which are, in a file for --layers: walls: [NAME]" : "");
  }

  void note_role(const std::string& layer, const std::optional<LayerRole>& role) {
    if (!role) return;
    const std::pair<std::string, LayerRole> one{layer, *role};
    if (std::ranges::find(plan_.layers, one) == plan_.layers.end()) plan_.layers.push_back(one);
  }

  /// Where all lines lie on one layer, they are walls.
  bool take_only_layer() {
    std::set<std::string> with_lines;
    for (const Drawing& drawing : drawings_) {
      for (const DrawnLine& line : drawing.lines) {
        with_lines.insert(drawing.layers[line.layer]);
        if (with_lines.size() > 1) return false;
      }
    }
    for (std::size_t i = 0; i < drawings_.size(); ++i) {
      for (std::size_t k = 0; k < roles_[i].size(); ++k) {
        if (drawings_[i].layers[k] == *with_lines.begin()) roles_[i][k] = LayerRole::walls;
      }
    }
    plan_.one_layer = true;
    plan_.layers = {{*with_lines.begin(), LayerRole::walls}};
    return true;
  }

  static std::string list(const std::set<std::string>& names) {
    constexpr std::size_t kShown = 20;
    std::string text;
    std::size_t count = 0;
    for (const std::string& name : names) {
      if (++count > kShown) return text + ", and " + std::to_string(names.size() - kShown) + " more";
      text += (text.empty() ? "" : ", ") + linkmargin::quoted(name);
    }
    return text;
  }

  std::string wall_layers() const {
    std::set<std::string> names;
    for (const auto& [layer, role] : plan_.layers) {
      if (role == LayerRole::walls || role == LayerRole::rooms) names.insert(layer);
    }
    return (names.size() == 1 ? "the layer " : "the layers ") + list(names);
  }

  Box2 extent_of_plan() const {
    Box2 box = Box2::nothing();
    for (std::size_t i = 0; i < drawings_.size(); ++i) {
      for (const DrawnLine& line : drawings_[i].lines) {
        const auto role = roles_[i][line.layer];
        if (role != LayerRole::walls && role != LayerRole::rooms) continue;
        for (const Point2 p : line.points) box.take(p);
      }
    }
    return box;
  }

  void bring_near() {
    const Box2 box = extent_of_plan();
    const Point2 size = box.max - box.min;
    if (std::max(size.x, size.y) > limits::kPlanCoordinateM.max) {
      faults_.add({}, DiagnosticCode::outside_range, "",
                  "the plan is " + fixed_text(size.x, 0) + " m by " + fixed_text(size.y, 0) +
                      " m large: a site has up to " + fixed_text(limits::kPlanCoordinateM.max, 0) + " m",
                  "is --unit right?");
      return;
    }
    const bool far =
        std::max({-box.min.x, -box.min.y, box.max.x, box.max.y}) > limits::kPlanCoordinateM.max ||
        std::max(std::abs(box.min.x), std::abs(box.min.y)) > kFarM;
    if (!far) return;
    plan_.shift_m = Point2{} - box.min;
    for (Drawing& drawing : drawings_) {
      for (DrawnLine& line : drawing.lines) {
        for (Point2& p : line.points) p = p - box.min;
      }
      for (DrawnArc& arc : drawing.arcs)
        arc = {arc.centre - box.min, arc.start - box.min, arc.end - box.min, arc.layer};
      for (DrawnText& text : drawing.texts) text.at = text.at - box.min;
    }
  }

  std::vector<Drawing> drawings_;
  bool given_;
  const LayerMap map_;
  Faults& faults_;
  std::vector<Roles> roles_;  // of each drawing
  TracedPlan plan_;
};

}  // namespace

Result<TracedPlan> traced_plan(std::vector<Drawing> drawings, const std::optional<LayerMap>& layers,
                               const std::string& file_name) {
  Faults faults(file_name);
  TracedPlan plan = PlanTracer(std::move(drawings), layers, faults).trace();
  if (!faults.empty()) return std::move(faults).sorted();
  return plan;
}

}  // namespace linkmargin::exchange
