#include "linkmargin/report/what_if/what_if_rows.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/report/json/json_values.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <utility>

namespace linkmargin {
namespace {

constexpr std::string_view kFirstKeys[] = {"run", "site", "case", "draw"};
constexpr std::string_view kResultKeys[] = {
    "worst_device", "worst_reading_percent", "worst_pass_probability", "weak_count",
    "weak_areas",   "worst_change_percent"};
constexpr std::string_view kDeviceKeys[] = {"device", "reading_percent", "weak"};

const KnownDigits kReading = known_digits("reading_percent");
const KnownDigits kChance = known_digits("pass_probability");

std::string json_text(std::string_view text) {
  return json::line(text);
}

std::string json_number(double number) {
  return std::isfinite(number) ? shortest_text(rounded_for_programs(number)) : "null";
}

const char* true_or_false(bool flag) {
  return flag ? "true" : "false";
}

/// The fields of a line of write_csv(), unquoted; nothing where quotation marks do not match.
std::optional<std::vector<std::string>> csv_fields(std::string_view line, char separator) {
  std::vector<std::string> fields(1);
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    if (line[i] == '"' && quoted && i + 1 < line.size() && line[i + 1] == '"') {
      fields.back() += line[i++];
    } else if (line[i] == '"') {
      quoted = !quoted;
    } else if (line[i] == separator && !quoted) {
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

/// Columns with underscores for the blanks of their paths, each another one.
std::vector<std::string> column_names(std::vector<std::string> paths) {
  for (std::size_t i = 0; i < paths.size(); ++i) {
    std::ranges::replace(paths[i], ' ', '_');
    while (std::find(paths.begin(), paths.begin() + static_cast<std::ptrdiff_t>(i), paths[i]) !=
           paths.begin() + static_cast<std::ptrdiff_t>(i))
      paths[i] += '_';
  }
  return paths;
}

}  // namespace

WhatIfRowText::WhatIfRowText(const WhatIf& what_if, std::vector<std::string> devices, const RowStyle& style)
    : runs_(what_if), style_(style) {
  for (const WhatIfSite& site : what_if.sites) sites_.push_back(text(site.file));
  cases_.push_back(csv() ? "" : "null");
  for (const WhatIfCase& of : what_if.sites.front().cases) cases_.push_back(text(of.name));
  std::vector<std::string> paths;
  for (const SweepAxis& axis : what_if.sweep) {
    paths.push_back(axis.path);
    std::vector<std::string> values;
    for (std::size_t i = 0; i < axis.values.size(); ++i) values.push_back(value_text(axis, i));
    values_.push_back(std::move(values));
  }
  if (csv()) paths = column_names(std::move(paths));
  for (const std::string& path : paths) paths_.push_back(text(path));
  for (const std::string& device : devices) devices_.push_back(text(device));
}

std::string WhatIfRowText::text(std::string_view name) const {
  return csv() ? csv_text(name, style_.csv) : json_text(name);
}

std::string WhatIfRowText::value_text(const SweepAxis& axis, std::size_t value) const {
  if (!csv()) return json::line(json::edit_value(axis.values[value]));
  std::string written = axis.texts[value];
  if (style_.csv.decimal_comma && std::holds_alternative<double>(axis.values[value]))
    std::ranges::replace(written, '.', ',');
  return csv_text(written, style_.csv);
}

std::string_view WhatIfRowText::line_end() const {
  return csv() ? kCsvLineEnd : "\n";
}

std::size_t WhatIfRowText::lines_per_run() const {
  return long_form() ? devices_.size() : 1;
}

std::string WhatIfRowText::header() const {
  if (!csv()) return {};
  std::string text(style_.csv.start());
  CsvWriter line(style_.csv, text);
  for (const std::string_view key : kFirstKeys) line.ready(key);
  for (const std::string& path : paths_) line.ready(path);
  if (long_form()) {
    for (const std::string_view key : kDeviceKeys) line.ready(key);
  } else {
    for (const std::string_view key : kResultKeys) line.ready(key);
  }
  line.end_line();
  return text;
}

std::string WhatIfRowText::rows(std::span<const WhatIfRow> rows) const {
  std::string lines;
  for (const WhatIfRow& row : rows) lines += csv() ? csv_lines(row) : json_row(row);
  return lines;
}

void WhatIfRowText::add_run(CsvWriter& line, const WhatIfRow& row) const {
  line.ready(std::to_string(row.run));
  line.ready(sites_[row.variant.site]);
  line.ready(cases_[row.variant.of_case]);
  line.ready(row.draw > 0 ? std::to_string(row.draw) : "");
  const std::vector<std::size_t> values = runs_.values(row.variant.combination);
  for (std::size_t axis = 0; axis < values.size(); ++axis) line.ready(values_[axis][values[axis]]);
}

void WhatIfRowText::add_result(CsvWriter& line, const WhatIfRow& row) const {
  const bool known = !row.worst_device.empty();
  const auto figure = [&](double value, const KnownDigits& digits) {
    if (known) return line.number(value, digits, row.weak_below_percent);
    line.none();
  };
  line.text(row.worst_device);
  figure(row.worst_reading_percent, kReading);
  figure(row.worst_pass_probability, kChance);
  line.ready(std::to_string(row.weak_count));
  line.ready(std::to_string(row.weak_areas));
  if (known) return line.number(row.worst_change_percent, kReading);
  line.none();
}

std::string WhatIfRowText::csv_lines(const WhatIfRow& row) const {
  std::string lines;
  CsvWriter line(style_.csv, lines);
  if (!long_form()) {
    add_run(line, row);
    add_result(line, row);
    line.end_line();
    return lines;
  }
  for (std::size_t i = 0; i < devices_.size(); ++i) {
    add_run(line, row);
    line.ready(devices_[i]);
    if (const auto& device = row.devices[i]) {
      line.number(device->reading_percent, kReading, row.weak_below_percent);
      line.ready(true_or_false(device->weak));
    } else {
      line.none();
      line.none();
    }
    line.end_line();
  }
  return lines;
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
  if (devices_.empty()) return line + "}\n";
  add("readings_percent", map(devices_, [&](std::size_t i) {
        return row.devices[i] ? json_number(row.devices[i]->reading_percent) : "null";
      }));
  std::string weak;
  for (std::size_t i = 0; i < devices_.size(); ++i) {
    if (row.devices[i] && row.devices[i]->weak) weak += (weak.empty() ? "" : ",") + devices_[i];
  }
  add("weak_devices", "[" + weak + "]");
  return line + "}\n";
}

std::optional<double> WhatIfRowText::read_number(std::string field) const {
  if (style_.csv.decimal_comma) std::ranges::replace(field, ',', '.');
  return parse_number(field);
}

std::optional<WhatIfFigures> WhatIfRowText::json_figures(std::string_view line) const {
  const json::Value value = json::Value::parse(line, nullptr, false);
  if (!value.is_object() || !value.contains("run") || !value.contains("worst_reading_percent") ||
      !value.contains("weak_count") || !value["run"].is_number_unsigned() ||
      !value["weak_count"].is_number_unsigned())
    return {};
  const json::Value& reading = value["worst_reading_percent"];
  return WhatIfFigures{value["run"].get<std::uint64_t>(), reading.is_number() ? reading.get<double>() : 0,
                       value["weak_count"].get<std::size_t>()};
}

std::optional<WhatIfFigures> WhatIfRowText::figures(std::span<const std::string_view> lines) const {
  if (lines.size() != lines_per_run()) return {};
  if (!csv()) return json_figures(lines.front());
  const std::size_t results = std::size(kFirstKeys) + paths_.size();
  const std::size_t all = results + (long_form() ? std::size(kDeviceKeys) : std::size(kResultKeys));
  WhatIfFigures found;
  std::optional<double> worst_percent;
  for (const std::string_view line : lines) {
    const auto fields = csv_fields(line, style_.csv.separator());
    std::uint64_t run = 0;
    if (!fields || fields->size() != all || !read_whole(fields->front(), run)) return {};
    if (found.run != 0 && run != found.run) return {};
    found.run = run;
    if (!long_form() && !read_whole((*fields)[results + 3], found.weak_count)) return {};
    if (long_form() && fields->back() == true_or_false(true)) ++found.weak_count;
    const std::string& reading = (*fields)[results + 1];
    if (reading.empty()) continue;
    const auto percent = read_number(reading);
    if (!percent) return {};
    worst_percent = std::min(worst_percent.value_or(*percent), *percent);
  }
  found.worst_reading_percent = worst_percent.value_or(0);
  return found;
}

WhatIfFigures WhatIfRowText::figures(const WhatIfRow& row) const {
  WhatIfFigures found{row.run, row.worst_reading_percent, row.weak_count};
  if (!csv() || style_.csv.precise || row.worst_device.empty()) return found;
  const std::string written = known_text(row.worst_reading_percent, kReading, row.weak_below_percent);
  found.worst_reading_percent = *parse_number(written);
  return found;
}

}  // namespace linkmargin
