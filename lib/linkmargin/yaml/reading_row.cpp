#include "linkmargin/yaml/reading_row.hpp"

#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/checks.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/yaml/readings_header.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace linkmargin::yaml {
namespace {

constexpr std::array kDoorWords{Word<bool>{"armed", false}, Word<bool>{"open", true}};

template <typename Items>
std::unordered_set<std::string> names_of(const Items& items) {
  std::unordered_set<std::string> names;
  for (const auto& item : items) names.insert(item.name);
  return names;
}

bool ends_with_dbm(std::string_view text) {
  if (text.size() < 3) return false;
  text.remove_prefix(text.size() - 3);
  return text == "dBm" || text == "dbm" || text == "DBM";
}

/// What a percentage was written for a level, or a level for a percentage, is told as.
std::string other_column_hint(std::string_view column, std::string_view written) {
  const auto value = parse_number(written);
  if (column == "reading_percent" && (ends_with_dbm(written) || (value && *value < 0))) {
    return "a level in dBm stands under level_dbm";
  }
  const bool percent = column == "level_dbm" && !written.empty() && written.back() == '%';
  return percent ? "a percentage stands under reading_percent" : "";
}

}  // namespace

struct ReadingRows::Row {
  Row(const CsvRecord& from, Node filled, std::size_t position, Faults& faults)
      : record(from),
        map(std::move(filled)),
        self(Cursor::at_item(top, position, map)),
        reader(self, "this reading", faults) {}

  const CsvRecord& record;
  Node map, list{};
  Cursor top{list};
  Cursor self;
  ObjectReader reader;
};

ReadingRows::ReadingRows(const std::vector<std::string_view>& columns, const Site& site, Faults& faults)
    : columns_(columns),
      site_(site),
      faults_(faults),
      devices_(names_of(site.devices)),
      hubs_(names_of(site.hubs)),
      storeys_(names_of(site.storeys)) {}

std::optional<std::size_t> ReadingRows::field_of(std::string_view column) const {
  const auto found = std::ranges::find(columns_, column);
  if (found == columns_.end()) return {};
  return static_cast<std::size_t>(found - columns_.begin());
}

Node ReadingRows::filled(const CsvRecord& record) const {
  Node map;
  map.kind = Node::Kind::mapping;
  map.mark = record.mark();
  for (std::size_t i = 0; i < record.fields.size(); ++i) {
    const CsvField& field = record.fields[i];
    if (columns_[i].empty() || (field.sound && field.text.empty())) continue;
    Node value;
    value.kind = field.sound ? Node::Kind::scalar : Node::Kind::refused;
    value.mark = field.mark;
    value.text = field.text;
    map.entries.push_back({std::string(columns_[i]), field.mark, kNowhere, std::move(value)});
  }
  return map;
}

Reading ReadingRows::read(const CsvRecord& record, std::size_t position) {
  Reading reading;
  reading.line = record.mark().line;
  if (record.count != columns_.size()) {
    report_count(record, position);
    return reading;
  }
  Row row(record, filled(record), position, faults_);
  reading.device = device(row);
  reading.hub = known_name(row, "hub", hubs_);
  read_value(row, reading);
  if (row.reader.find("doors")) reading.doors_open = row.reader.word_or<bool>("doors", kDoorWords, false);
  reading.place = place(row, reading.device);
  reading.note = row.reader.text_or_empty("note");
  return reading;
}

void ReadingRows::report_count(const CsvRecord& record, std::size_t position) {
  if (!record.sound()) return;  // where its fields end is not known
  const std::size_t columns = columns_.size();
  const bool more = record.count > columns;
  const bool semicolons = std::ranges::any_of(
      record.fields, [](const CsvField& field) { return field.text.find(';') != std::string::npos; });
  std::string hint = "text with a comma takes quotation marks, decimals take a point";
  if (!more) hint = semicolons ? "commas separate the fields" : "an empty field still has its comma";
  faults_.add(more && columns < record.fields.size() ? record.fields[columns].mark : record.mark(),
              "/" + std::to_string(position),
              "the header names " + std::to_string(columns) + (columns == 1 ? " column" : " columns") +
                  ", this row has " + std::to_string(record.count) +
                  (record.count == 1 ? " field" : " fields"),
              std::move(hint));
}

std::string ReadingRows::device(Row& row) {
  const auto field = field_of("device");
  if (!field) return {};
  if (!row.reader.find("device")) {
    faults_.add(row.record.fields[*field].mark, row.self.pointer_to("device"),
                "device: expected a name, found nothing");
  }
  return known_name(row, "device", devices_).value_or("");
}

std::optional<std::string> ReadingRows::known_name(Row& row, std::string_view column,
                                                   const std::unordered_set<std::string>& known) {
  const auto value = row.reader.find(column);
  const auto name = value ? read_name(*value, faults_) : std::optional<std::string>();
  if (!name || known.contains(*name)) return name;
  faults_.add(value->mark(), value->pointer(), "unknown " + std::string(column) + " " + quoted(*name),
              name_hint(column, *name, known));
  return {};
}

std::string ReadingRows::name_hint(std::string_view column, const std::string& name,
                                   const std::unordered_set<std::string>& known) {
  constexpr int most =
      100;  // the search for near names is slow, and a wrong site file makes every row unknown
  if (++hints_ > most) return {};
  const auto has = [&](const auto& items) {
    return std::ranges::any_of(items, [&](const auto& item) { return item.name == name; });
  };
  if (column != "storey") {
    if (has(site_.hubs)) return "it is a hub";
    if (has(site_.repeaters)) return "it is a repeater";
    if (has(site_.devices)) return "it is a device";
    if (has(site_.areas)) return "it is an area; readings are of devices";
  }
  std::vector<std::string> sorted(known.begin(), known.end());
  std::ranges::sort(sorted);
  return nearest_hint(name, sorted);
}

std::optional<double> ReadingRows::number(Row& row, std::string_view column, const Range& range) {
  const auto value = row.reader.find(column);
  if (!value) return {};
  const std::string& written = value->node().text;
  std::string hint = value->node().kind == Node::Kind::scalar ? other_column_hint(column, written) : "";
  if (hint.empty()) return row.reader.number_if(column, range);
  const std::string what = column == "level_dbm" ? "a level in dBm" : "a percentage";
  row.reader.fault(column, "expected " + what + ", found " + quoted(written, '"'), std::move(hint));
  return {};
}

void ReadingRows::read_value(Row& row, Reading& reading) {
  reading.percent = number(row, "reading_percent", limits::kPercent);
  if (const auto level_dbm = number(row, "level_dbm", limits::kReceivedDbm)) reading.level = Dbm{*level_dbm};
  row.reader.at_most_one_of({"reading_percent", "level_dbm"});
  if (row.reader.find("reading_percent") || row.reader.find("level_dbm")) return;
  auto field = field_of("reading_percent");
  if (!field) field = field_of("level_dbm");
  if (!field) return;  // the header's fault
  faults_.add(row.record.fields[*field].mark, row.self.pointer_to(columns_[*field]),
              "missing one of reading_percent, level_dbm in this reading");
}

std::optional<Placement> ReadingRows::place(Row& row, const std::string& device) {
  const auto filled = [&](std::string_view column) { return row.reader.find(column).has_value(); };
  if (std::ranges::none_of(kPlaceColumns, filled)) return {};
  const std::size_t before = faults_.count();
  for (const std::string_view column : kPlaceColumns) {
    const auto field = field_of(column);
    if (!field || filled(column)) continue;
    faults_.add(row.record.fields[*field].mark, row.self.pointer_to(column),
                std::string(column) + ": expected a value, found nothing",
                "x_m, y_m, storey and height_m are filled all or none");
  }
  Placement place;
  const auto coordinate = [&](std::string_view column) {
    return snapped(number(row, column, limits::kPlanCoordinateM).value_or(0));
  };
  place.at = {coordinate("x_m"), coordinate("y_m")};
  place.storey = storey(row);
  place.height_m = number(row, "height_m", limits::kRadioHeightM).value_or(0);
  const bool whole = std::ranges::all_of(kPlaceColumns, filled);
  if (whole && faults_.count() == before) check_height(row, place, device);
  return place;
}

std::size_t ReadingRows::storey(Row& row) {
  const auto name = known_name(row, "storey", storeys_);
  if (!name) return 0;
  return static_cast<std::size_t>(std::ranges::find(site_.storeys, *name, &Storey::name) -
                                  site_.storeys.begin());
}

void ReadingRows::check_height(const Row& row, const Placement& place, const std::string& device) {
  const std::string name = device.empty() ? "the device" : device;
  const std::string no_profile;
  const std::optional<Mobility> fixed;
  Diagnostics found;
  checks::check_height(site_, {"devices", name, no_profile, place, fixed}, found);
  for (Diagnostic& fault : found) {
    faults_.add(row.record.fields[*field_of("height_m")].mark, row.self.pointer_to("height_m"),
                std::move(fault.message), std::move(fault.hint));
  }
}

}  // namespace linkmargin::yaml
