#include "linkmargin/report/what_if/what_if_rows.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/document/write_csv.hpp"
#include "linkmargin/report/json/json_values.hpp"

#include <array>
#include <charconv>
#include <cmath>
#include <utility>

namespace linkmargin {
namespace {

constexpr std::string_view kFirstKeys[] = {"run", "site", "case", "draw"};
constexpr std::string_view kResultKeys[] = {
    "worst_device", "worst_reading_percent", "worst_pass_probability", "weak_count",
    "weak_areas",   "worst_change_percent"};

std::string json_text(std::string_view text) {
  return json::line(text);
}

std::string json_number(double number) {
  return std::isfinite(number) ? csv_number(number) : "null";
}

/// The fields of a line of write_csv(), unquoted; nothing where quotation marks do not match.
std::optional<std::vector<std::string>> csv_fields(std::string_view line) {
  std::vector<std::string> fields(1);
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    if (line[i] == '"' && quoted && i + 1 < line.size() && line[i + 1] == '"') {
      fields.back() += line[i++];
    } else if (line[i] == '"') {
      quoted = !quoted;
    } else if (line[i] == ',' && !quoted) {
      fields.emplace_back();
    } else {
      fields.back() += line[i];
    }
  }
  if (quoted) return {};
  return fields;
}

template <typename Whole>
bool read_whole(std::string_view text, Whole& number) {
  const auto end = std::from_chars(text.data(), text.data() + text.size(), number);
  return end.ec == std::errc() && end.ptr == text.data() + text.size();
}

}  // namespace

WhatIfRowText::WhatIfRowText(const WhatIf& what_if, std::vector<std::string> devices, RowFormat format)
    : runs_(what_if), format_(format) {
  for (const WhatIfSite& site : what_if.sites) sites_.push_back(text(site.file));
  cases_.push_back(format == RowFormat::csv ? "" : "null");
  for (const WhatIfCase& of : what_if.sites.front().cases) cases_.push_back(text(of.name));
  for (const SweepAxis& axis : what_if.sweep) {
    paths_.push_back(text(axis.path));
    std::vector<std::string> values;
    for (std::size_t i = 0; i < axis.values.size(); ++i)
      values.push_back(format == RowFormat::csv ? csv_text(axis.texts[i])
                                                : json::line(json::edit_value(axis.values[i])));
    values_.push_back(std::move(values));
  }
  for (const std::string& device : devices)
    devices_.push_back(text(format == RowFormat::csv ? "reading_percent: " + device : device));
}

std::string WhatIfRowText::text(std::string_view name) const {
  return format_ == RowFormat::csv ? csv_text(name) : json_text(name);
}

std::string_view WhatIfRowText::line_end() const {
  return format_ == RowFormat::csv ? kCsvLineEnd : "\n";
}

std::string WhatIfRowText::header() const {
  if (format_ != RowFormat::csv) return {};
  std::string line;
  const auto add = [&](std::string_view key) { line.append(line.empty() ? "" : ",").append(key); };
  for (const std::string_view key : kFirstKeys) add(key);
  for (const std::string& path : paths_) add(path);
  for (const std::string_view key : kResultKeys) add(key);
  for (const std::string& device : devices_) add(device);
  return line.append(kCsvLineEnd);
}

std::string WhatIfRowText::rows(std::span<const WhatIfRow> rows) const {
  std::string lines;
  for (const WhatIfRow& row : rows) lines += format_ == RowFormat::csv ? csv_row(row) : json_row(row);
  return lines;
}

std::string WhatIfRowText::csv_row(const WhatIfRow& row) const {
  std::string line = std::to_string(row.run);
  const auto add = [&](std::string_view field) { line.append(",").append(field); };
  const bool known = !row.worst_device.empty();
  const auto figure = [&](double value) { add(known ? csv_number(value) : ""); };
  add(sites_[row.variant.site]);
  add(cases_[row.variant.of_case]);
  add(row.draw > 0 ? std::to_string(row.draw) : "");
  const std::vector<std::size_t> values = runs_.values(row.variant.combination);
  for (std::size_t axis = 0; axis < values.size(); ++axis) add(values_[axis][values[axis]]);
  add(csv_text(row.worst_device));
  figure(row.worst_reading_percent);
  figure(row.worst_pass_probability);
  add(std::to_string(row.weak_count));
  add(std::to_string(row.weak_areas));
  figure(row.worst_change_percent);
  for (const double percent : row.readings_percent) add(csv_number(percent));
  return line.append(kCsvLineEnd);
}

std::string WhatIfRowText::json_row(const WhatIfRow& row) const {
  std::string line = "{\"run\":" + std::to_string(row.run);
  const auto add = [&](std::string_view key, std::string_view value) {
    line.append(",\"").append(key).append("\":").append(value);
  };
  const auto map = [](const std::vector<std::string>& keys, const auto& value_of) {
    std::string text = "{";
    for (std::size_t i = 0; i < keys.size(); ++i) text += (i > 0 ? "," : "") + keys[i] + ":" + value_of(i);
    return text + "}";
  };
  const bool known = !row.worst_device.empty();
  const auto figure = [&](std::string_view key, double value) {
    add(key, known ? json_number(value) : "null");
  };
  add("site", sites_[row.variant.site]);
  add("case", cases_[row.variant.of_case]);
  add("draw", row.draw > 0 ? std::to_string(row.draw) : "null");
  const std::vector<std::size_t> values = runs_.values(row.variant.combination);
  add("swept", map(paths_, [&](std::size_t axis) { return values_[axis][values[axis]]; }));
  add("worst_device", known ? json_text(row.worst_device) : "null");
  figure("worst_reading_percent", row.worst_reading_percent);
  figure("worst_pass_probability", row.worst_pass_probability);
  add("weak_count", std::to_string(row.weak_count));
  add("weak_areas", std::to_string(row.weak_areas));
  figure("worst_change_percent", row.worst_change_percent);
  if (!devices_.empty())
    add("readings_percent",
        map(devices_, [&](std::size_t i) { return json_number(row.readings_percent[i]); }));
  return line + "}\n";
}

std::optional<WhatIfFigures> WhatIfRowText::figures(std::string_view line) const {
  WhatIfFigures found;
  if (format_ == RowFormat::json_lines) {
    const json::Value value = json::Value::parse(line, nullptr, false);
    if (!value.is_object() || !value.contains("run") || !value.contains("worst_reading_percent") ||
        !value.contains("weak_count") || !value["run"].is_number_unsigned() ||
        !value["weak_count"].is_number_unsigned())
      return {};
    const json::Value& reading = value["worst_reading_percent"];
    return WhatIfFigures{value["run"].get<std::uint64_t>(), reading.is_number() ? reading.get<double>() : 0,
                         value["weak_count"].get<std::size_t>()};
  }
  const auto fields = csv_fields(line);
  const std::size_t results = std::size(kFirstKeys) + paths_.size();
  if (!fields || fields->size() != results + std::size(kResultKeys) + devices_.size()) return {};
  const std::string& reading = (*fields)[results + 1];
  const auto percent = reading.empty() ? std::optional(0.0) : parse_number(reading);
  if (!percent || !read_whole(fields->front(), found.run) ||
      !read_whole((*fields)[results + 3], found.weak_count))
    return {};
  found.worst_reading_percent = *percent;
  return found;
}

}  // namespace linkmargin
