#include "linkmargin/site/edit/edit.hpp"

#include "linkmargin/base/joined.hpp"
#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/edit/edit_target.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>

namespace linkmargin {
namespace edits {
namespace {

/// How many names of a path agree with a pattern, from the first.
std::size_t agreeing(const std::vector<std::string>& names, const EditTarget& place) {
  std::size_t count = 0;
  while (count < names.size() && count < place.pattern.size() &&
         (place.pattern[count] == "*" || place.pattern[count] == names[count])) {
    ++count;
  }
  return count;
}

/// Says where a path leaves every pattern, and what could stand there.
void report_nowhere(const EditContext& task) {
  std::size_t longest = 0;
  for (const EditTarget& place : places()) longest = std::max(longest, agreeing(task.names, place));
  std::vector<std::string> known;
  const auto add = [&](std::string name) {
    if (std::ranges::find(known, name) == known.end()) known.push_back(std::move(name));
  };
  for (const EditTarget& place : places()) {
    if (agreeing(task.names, place) < longest) continue;
    const bool whole = place.pattern.size() == longest;
    if (!whole) add(std::string(place.pattern[longest]));
    if (whole) std::ranges::for_each(place.keys(), add);
  }
  if (longest == task.names.size() || known == std::vector<std::string>{"*"}) {
    return task.fault(DiagnosticCode::unreachable, "the path leads to no single value");
  }
  const std::string& name = task.names[longest];
  const std::string near = nearest_hint(name, known);
  task.fault(DiagnosticCode::unreachable, "an edit cannot set " + checks::quoted(name),
             near.empty() ? "it can set " + joined(known) : near);
}

void apply(const EditContext& task) {
  if (std::holds_alternative<NewRadio>(task.edit.value)) return add_radio(task);
  if (std::holds_alternative<NewDevice>(task.edit.value)) return add_device(task);
  if (std::holds_alternative<Obstacle>(task.edit.value)) return add_obstacle(task);
  if (std::holds_alternative<Removal>(task.edit.value)) return remove(task);
  if (std::holds_alternative<Calibration>(task.edit.value)) return set_calibration(task);
  for (const EditTarget& place : places()) {
    const bool leads_here = task.names.size() == place.pattern.size() + 1;
    if (leads_here && agreeing(task.names, place) == place.pattern.size()) {
      const bool deeper = std::ranges::any_of(places(), [&](const EditTarget& other) {
        return other.pattern.size() == task.names.size() && agreeing(task.names, other) == task.names.size();
      });
      return deeper ? report_nowhere(task) : place.set(task);
    }
  }
  report_nowhere(task);
}

}  // namespace
}  // namespace edits

Result<Site> edited_site(const Site& site, std::span<const Edit> edits) {
  Site edited = site;
  Diagnostics faults;
  for (const Edit& edit : edits) {
    const auto names = pointer_names(edit.path);
    if (names && !names->empty()) {
      edits::apply({edited, edit, *names, faults});
    } else {
      checks::add(faults, DiagnosticCode::unreachable, edit.path,
                  "\"" + edit.path + "\" is no path to a value",
                  "a path is written /devices/NAME/height_m; in a name ~ is ~0 and / is ~1");
    }
  }
  if (faults.empty()) faults = validate(edited);
  if (faults.empty()) return edited;
  return faults;
}

std::vector<std::string> editable_paths() {
  std::vector<std::string> paths;
  for (const edits::EditTarget& place : edits::places()) {
    std::string start;
    for (const std::string_view name : place.pattern) start += "/" + std::string(name);
    for (const std::string& key : place.keys()) paths.push_back(start + "/" + key);
  }
  return paths;
}

std::string coordinate_text(double coordinate_m) {
  constexpr int most_decimals = 4;  // rounds by less than half of kGridPitchM
  const double place_m = snapped(coordinate_m);
  for (int decimals = 0; decimals < most_decimals; ++decimals) {
    const std::string text = fixed_text(place_m, decimals);
    if (snapped(*parse_number(text)) == place_m) return text;
  }
  return fixed_text(place_m, most_decimals);
}

}  // namespace linkmargin
