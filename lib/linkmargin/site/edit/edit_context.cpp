#include "linkmargin/site/edit/edit_context.hpp"

#include "linkmargin/base/joined.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/trade_words.hpp"
#include "linkmargin/site/validation/checks.hpp"
#include "linkmargin/text/name_flaw.hpp"

#include <algorithm>
#include <utility>

namespace linkmargin::edits {

void EditContext::fault(DiagnosticCode code, std::string message, std::string hint) const {
  checks::add(faults, code, edit.path, std::move(message), std::move(hint));
}

void EditContext::unknown(const std::string& what, const std::string& name, std::string hint,
                          DiagnosticCode code) const {
  fault(code, "unknown " + what + " " + checks::quoted(name), std::move(hint));
}

std::string found_text(const EditValue& value) {
  struct Words {
    std::string operator()(double number) const { return "the number " + shortest_text(number); }
    std::string operator()(const std::string& text) const { return "the text \"" + text + "\""; }
    std::string operator()(bool flag) const { return flag ? "on" : "off"; }
    std::string operator()(Point2 p) const { return "the point " + checks::place_text(p); }
    std::string operator()(const NewRadio&) const { return "a whole hub or repeater"; }
    std::string operator()(const Calibration&) const { return "a whole calibration"; }
    std::string operator()(const NewDevice&) const { return "a whole device"; }
    std::string operator()(const Obstacle&) const { return "a whole obstacle"; }
    std::string operator()(Removal) const { return "a removal"; }
  };
  return std::visit(Words{}, value);
}

bool check_range(const EditContext& task, const std::string& key, const Range& range, double value) {
  if (range.contains(value)) return true;
  task.fault(DiagnosticCode::outside_range, key + ": " + shortest_text(value) + " is outside " +
                                                shortest_text(range.min) + ".." + shortest_text(range.max));
  return false;
}

bool check_point(const EditContext& task, const std::string& key, Point2 at) {
  return check_range(task, key, limits::kPlanCoordinateM, at.x) &&
         check_range(task, key, limits::kPlanCoordinateM, at.y);
}

bool check_name(const EditContext& task, const std::string& key, const std::string& name) {
  const std::string flaw = name_flaw(name, "\"" + name + "\"");
  if (!flaw.empty()) task.fault(DiagnosticCode::bad_name, key + ": " + flaw);
  return flaw.empty();
}

std::optional<std::size_t> position_of(const EditContext& task, const std::vector<std::string>& known,
                                       DiagnosticCode code, const std::string& what,
                                       const std::string& name) {
  const auto found = std::ranges::find(known, name);
  if (found != known.end()) return static_cast<std::size_t>(found - known.begin());
  task.unknown(what, name, name_hint(what, name, known), code);
  return {};
}

std::optional<std::size_t> storey_position(const EditContext& task, const std::string& name) {
  return position_of(task, checks::names_of(task.site.storeys), DiagnosticCode::unknown_name, "storey", name);
}

}  // namespace linkmargin::edits
