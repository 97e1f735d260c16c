#include "linkmargin/yaml/site/calibration_yaml.hpp"

#include "linkmargin/site/limits.hpp"

#include <vector>

namespace linkmargin::yaml {
namespace {

/// [pointer, pointer, value]
void read_correlation(const Cursor& list, std::vector<Calibration::Correlation>& into, Faults& faults) {
  constexpr const char* what = "a list of two parameters and a number";
  if (!expect(list, Node::Kind::sequence, what, faults)) return;
  const std::vector<Node>& items = list.node().items;
  if (items.size() != 3) {
    return add_fault(list,
                     "expected " + std::string(what) + ", found " + std::to_string(items.size()) + " items",
                     "", faults);
  }
  const auto first = read_text(Cursor::at_item(list, 0, items[0]), faults);
  const auto second = read_text(Cursor::at_item(list, 1, items[1]), faults);
  const auto value = read_number(Cursor::at_item(list, 2, items[2]), limits::kCorrelation, faults);
  if (first && second && value) into.push_back({*first, *second, *value});
}

LearnedShift read_shift(const Cursor& cursor, const std::string& name, Faults& faults) {
  ObjectReader reader(cursor, label("material", name), faults);
  LearnedShift shift;
  shift.shift_db = reader.number("shift_db", limits::kLearnedShiftDb);
  shift.sigma_db = reader.number_or("sigma_db", limits::kSigmaDb, 0);
  shift.readings = reader.whole_or("readings", limits::kLearnedFrom, 0);
  reader.finish();
  return shift;
}

}  // namespace

std::map<std::string, LearnedShift> read_learned(const Cursor& map, const Range& count, Faults& faults) {
  std::map<std::string, LearnedShift> learned;
  for_each_named(map, count, faults, [&](const Cursor& cursor, const Entry& entry) {
    learned.emplace(entry.key, read_shift(cursor, entry.key, faults));
  });
  return learned;
}

Calibration read_calibration(const Cursor& cursor, Faults& faults) {
  ObjectReader reader(cursor, "calibration", faults);
  Calibration learned;
  learned.offset_db = reader.number_or("offset_db", limits::kLearnedOffsetDb, 0);
  learned.offset_sigma_db = reader.number_or("offset_sigma_db", limits::kSigmaDb, 0);
  learned.exponent_sigma = reader.number_or("exponent_sigma", limits::kExponentSigma, 0);
  learned.zero_sigma_db = reader.number_or("zero_sigma_db", limits::kSigmaDb, 0);
  learned.full_sigma_db = reader.number_or("full_sigma_db", limits::kSigmaDb, 0);
  learned.readings = reader.whole_or("readings", limits::kLearnedFrom, 0);
  if (const auto materials = reader.find("materials"))
    learned.materials = read_learned(*materials, limits::kLearnedMaterials, faults);
  if (const auto pairs = reader.find("correlations")) {
    for_each_item(*pairs, limits::kCorrelations, faults,
                  [&](const Cursor& item) { read_correlation(item, learned.correlations, faults); });
  }
  reader.finish();
  return learned;
}

}  // namespace linkmargin::yaml
