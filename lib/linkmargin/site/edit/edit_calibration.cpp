#include "linkmargin/site/edit/edit_keys.hpp"
#include "linkmargin/site/edit/edit_target.hpp"
#include "linkmargin/site/edit/edit_setter.hpp"
#include "linkmargin/site/limits.hpp"

namespace linkmargin::edits {
namespace {

void set_readings(Calibration& calibration, double readings) {
  calibration.readings = static_cast<int>(readings);
}

void check_shift(const EditContext& task, const std::string& name, const LearnedShift& shift) {
  check_name(task, "material", name);
  check_range(task, "shift_db", limits::kLearnedShiftDb, shift.shift_db);
  check_range(task, "sigma_db", limits::kSigmaDb, shift.sigma_db);
  check_range(task, "readings", limits::kLearnedFrom, shift.readings);
}

/// The ranges that a reader of files looks at; all else is left to validate().
void check_ranges(const EditContext& task, const Calibration& whole) {
  check_range(task, "offset_db", limits::kLearnedOffsetDb, whole.offset_db);
  check_range(task, "offset_sigma_db", limits::kSigmaDb, whole.offset_sigma_db);
  check_range(task, "exponent_sigma", limits::kExponentSigma, whole.exponent_sigma);
  check_range(task, "zero_sigma_db", limits::kSigmaDb, whole.zero_sigma_db);
  check_range(task, "full_sigma_db", limits::kSigmaDb, whole.full_sigma_db);
  check_range(task, "readings", limits::kLearnedFrom, whole.readings);
  const auto check_count = [&](const Range& range, std::size_t count) {
    check_range(task, std::string(range.name), range, static_cast<double>(count));
  };
  check_count(limits::kLearnedMaterials, whole.materials.size());
  check_count(limits::kCorrelations, whole.correlations.size());
  for (const auto& [name, shift] : whole.materials) check_shift(task, name, shift);
  for (const auto& pair : whole.correlations)
    check_range(task, "correlation", limits::kCorrelation, pair.value);
}

}  // namespace

template <>
std::span<const EditKey<Calibration>> edit_keys() {
  using Learned = Calibration;
  static const EditKey<Learned> keys[] = {
      {"offset_db",
       NumberKey<Learned>{&limits::kLearnedOffsetDb, [](Learned& c, double db) { c.offset_db = db; }}},
      {"offset_sigma_db",
       NumberKey<Learned>{&limits::kSigmaDb, [](Learned& c, double db) { c.offset_sigma_db = db; }}},
      {"exponent_sigma",
       NumberKey<Learned>{&limits::kExponentSigma, [](Learned& c, double s) { c.exponent_sigma = s; }}},
      {"zero_sigma_db",
       NumberKey<Learned>{&limits::kSigmaDb, [](Learned& c, double db) { c.zero_sigma_db = db; }}},
      {"full_sigma_db",
       NumberKey<Learned>{&limits::kSigmaDb, [](Learned& c, double db) { c.full_sigma_db = db; }}},
      {"readings", NumberKey<Learned>{&limits::kLearnedFrom, set_readings, true}}};
  return keys;
}

template <>
std::span<const EditKey<LearnedShift>> edit_keys() {
  using Shift = LearnedShift;
  static const EditKey<Shift> keys[] = {
      {"shift_db", NumberKey<Shift>{&limits::kLearnedShiftDb, [](Shift& s, double db) { s.shift_db = db; }}},
      {"sigma_db", NumberKey<Shift>{&limits::kSigmaDb, [](Shift& s, double db) { s.sigma_db = db; }}},
      {"readings",
       NumberKey<Shift>{&limits::kLearnedFrom,
                        [](Shift& s, double readings) { s.readings = static_cast<int>(readings); }, true}}};
  return keys;
}

void set_calibration(const EditContext& task) {
  if (task.names.size() != 1 || task.names.front() != "calibration")
    return task.fault("a whole calibration goes to /calibration only");
  const auto& whole = std::get<Calibration>(task.edit.value);
  check_ranges(task, whole);
  task.site.calibration = whole;
}

}  // namespace linkmargin::edits
