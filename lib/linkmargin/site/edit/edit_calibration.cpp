#include "linkmargin/site/edit/edit_setter.hpp"
#include "linkmargin/site/edit/edit_target.hpp"
#include "linkmargin/site/limits.hpp"

namespace linkmargin::edits {
namespace {

/// The ranges that a reader of files looks at; all else is left to validate().
void check_ranges(const EditContext& task, const Calibration& whole) {
  check_stated(task, whole);
  const auto check_count = [&](const Range& range, std::size_t count) {
    check_range(task, std::string(range.name), range, static_cast<double>(count));
  };
  check_count(limits::kLearnedMaterials, whole.materials.size());
  check_count(limits::kCorrelations, whole.correlations.size());
  for (const auto& [name, shift] : whole.materials) {
    check_name(task, "material", name);
    check_stated(task, shift);
  }
  check_count(limits::kLearnedRadios, whole.radios.size());
  for (const auto& [name, radio] : whole.radios) {
    check_name(task, "radio", name);
    check_stated(task, radio);
  }
  for (const auto& pair : whole.correlations)
    check_range(task, "correlation", limits::kCorrelation, pair.value);
}

}  // namespace

void set_calibration(const EditContext& task) {
  if (task.names.size() != 1 || task.names.front() != "calibration")
    return task.fault(DiagnosticCode::unreachable, "a whole calibration goes to /calibration only");
  const auto& whole = std::get<Calibration>(task.edit.value);
  check_ranges(task, whole);
  task.site.calibration = whole;
}

}  // namespace linkmargin::edits
