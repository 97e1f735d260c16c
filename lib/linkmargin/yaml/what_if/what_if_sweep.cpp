#include "linkmargin/yaml/what_if/what_if_sweep.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/yaml/fields/shapes_yaml.hpp"
#include "linkmargin/yaml/what_if/case_yaml.hpp"

#include <cmath>
#include <utility>

namespace linkmargin::yaml {
namespace {

constexpr Range kAnyNumber{-1e12, 1e12, "number", "common practice"};

/// A value with where it is written.
struct Swept {
  EditValue value;
  std::string text;
  Mark mark;
  std::string pointer;
};

std::string value_text(const EditValue& value, const Node& node) {
  if (const auto* number = std::get_if<double>(&value)) return shortest_text(*number);
  if (const auto* at = std::get_if<Point2>(&value))
    return "[" + coordinate_text(at->x) + ", " + coordinate_text(at->y) + "]";
  if (const auto* on = std::get_if<bool>(&value)) return *on ? "on" : "off";
  return node.text;
}

std::vector<Swept> read_list(const Cursor& list, Faults& faults) {
  std::vector<Swept> values;
  for_each_item(list, kSweepValues, faults, [&](const Cursor& item) {
    auto value = read_plain_value(item, faults);
    if (!value) return;
    if (!values.empty() && values.front().value.index() != value->index())
      return add_fault(item, DiagnosticCode::wrong_type,
                       "the values of one path are all numbers, all texts, all switches or all places", {},
                       faults);
    std::string text = value_text(*value, item.node());
    for (const Swept& before : values) {
      if (before.text == text)
        return add_fault(item, DiagnosticCode::given_twice,
                         "the value " + quoted(text) + " stands there already", {}, faults);
    }
    values.push_back({std::move(*value), std::move(text), item.mark(), item.pointer()});
  });
  return values;
}

/// from, from + step, ... to, each rounded to what is meant: 12 decimals.
std::vector<Swept> read_range(const Cursor& range, Faults& faults) {
  ObjectReader reader(range, "the range", faults);
  const double from = reader.number("from", kAnyNumber);
  const double to = reader.number("to", kAnyNumber);
  const double step = reader.number("step", kAnyNumber);
  reader.finish();
  if (!reader.sound()) return {};
  const double count = std::floor((to - from) / step + 1e-9) + 1;
  if (!(step != 0 && count >= 1 && count <= kSweepValues.max)) {
    add_fault(range, DiagnosticCode::wrong_count,
              step == 0   ? "a step of 0 leads nowhere"
              : count < 1 ? "the step leads away from `to`"
                          : "over " + shortest_text(kSweepValues.max) + " values",
              {}, faults);
    return {};
  }
  std::vector<Swept> values;
  for (int i = 0; i < static_cast<int>(count); ++i) {
    const double value = *parse_number(fixed_text(from + i * step, 12));
    values.push_back({value, shortest_text(value), range.mark(), range.pointer()});
  }
  return values;
}

/// Tells what is wrong with a value on top of the cases. Wrong for the site as it is, it is not tried
/// further.
void try_value(const std::string& path, const Swept& value, const Site& site,
               std::span<const WhatIfCase> cases, Faults& faults) {
  for (const WhatIfCase& of : cases) {
    std::vector<Edit> edits = of.edits;
    edits.push_back({path, value.value});
    const auto edited = edited_site(site, edits);
    if (edited) continue;
    const std::string before = value.text + (of.name.empty() ? ": " : " in case " + quoted(of.name) + ": ");
    for (Diagnostic fault : edited.error()) {
      fault.path = value.pointer;
      fault.message.insert(0, before);
      faults.add(value.mark, std::move(fault));
    }
    if (of.name.empty()) return;
  }
}

}  // namespace

std::vector<SweepAxis> read_sweep(const Cursor& sweep, const Site& site, std::span<const WhatIfCase> cases,
                                  Faults& faults) {
  std::vector<SweepAxis> axes;
  if (!expect(sweep, Node::Kind::mapping, "a map of paths to their values", faults)) return axes;
  if (!expect_count(sweep, sweep.node().entries.size(), kSweepAxes, faults)) return axes;
  report_repeats(sweep, "path", faults);
  for (const Entry& entry : sweep.node().entries) {
    const Cursor cursor = Cursor::at_key(sweep, entry.key, entry.value);
    const bool range = entry.value.kind == Node::Kind::mapping;
    const std::vector<Swept> values = range ? read_range(cursor, faults) : read_list(cursor, faults);
    SweepAxis axis{entry.key, {}, {}};
    for (const Swept& value : values) {
      try_value(entry.key, value, site, cases, faults);
      axis.values.push_back(value.value);
      axis.texts.push_back(value.text);
    }
    axes.push_back(std::move(axis));
  }
  return axes;
}

}  // namespace linkmargin::yaml
