#include "linkmargin/yaml/site/calibration_yaml.hpp"

#include "linkmargin/site/limits.hpp"
#include "linkmargin/yaml/fields/field_reader.hpp"

#include <vector>

namespace linkmargin::yaml {
namespace {

/// [pointer, pointer, value]
void read_correlation(const Cursor& list, std::vector<Calibration::Correlation>& into, Faults& faults) {
  constexpr const char* what = "a list of two parameters and a number";
  if (!expect(list, Node::Kind::sequence, what, faults)) return;
  const std::vector<Node>& items = list.node().items;
  if (items.size() != 3) {
    return add_fault(list, DiagnosticCode::wrong_count,
                     "expected " + std::string(what) + ", found " + std::to_string(items.size()) + " items",
                     "", faults);
  }
  const auto first = read_text(Cursor::at_item(list, 0, items[0]), faults);
  const auto second = read_text(Cursor::at_item(list, 1, items[1]), faults);
  const auto value = read_number(Cursor::at_item(list, 2, items[2]), limits::kCorrelation, faults);
  if (first && second && value) into.push_back({*first, *second, *value});
}

LearnedShift read_shift(const Cursor& cursor, const std::string& name, Faults& faults) {
  return read_noun<LearnedShift>(cursor, label("material", name), faults);
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
  read_fields(reader, learned, {faults}, [&](std::string_view key, const Cursor& value) {
    if (key == "materials") learned.materials = read_learned(value, limits::kLearnedMaterials, faults);
    if (key == "radios") {
      for_each_named(value, limits::kLearnedRadios, faults, [&](const Cursor& radio, const Entry& entry) {
        learned.radios.emplace(entry.key, read_noun<LearnedRadio>(radio, label("radio", entry.key), faults));
      });
    }
    if (key == "correlations") {
      for_each_item(value, limits::kCorrelations, faults,
                    [&](const Cursor& item) { read_correlation(item, learned.correlations, faults); });
    }
  });
  reader.finish();
  return learned;
}

}  // namespace linkmargin::yaml
