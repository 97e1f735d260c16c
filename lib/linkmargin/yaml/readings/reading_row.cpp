#include "linkmargin/yaml/readings/reading_row.hpp"

#include "linkmargin/base/letter_case.hpp"
#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/schema/key_unit.hpp"
#include "linkmargin/site/validation/checks.hpp"
#include "linkmargin/text/blanks.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace linkmargin::yaml {
namespace {

constexpr std::array kDoorWords{EnumName<bool>{"armed", false}, EnumName<bool>{"open", true}};

template <typename Items>
std::unordered_set<std::string> names_of(const Items& items) {
  std::unordered_set<std::string> names;
  for (const auto& item : items) names.insert(item.name);
  return names;
}

/// What a percentage was written for a level, or a level for a percentage, is told as.
std::string other_column_hint(std::string_view column, std::string_view written,
                              const std::optional<SheetNumber>& number) {
  const std::string_view text = trimmed(written);
  const bool bare_negative = number && !number->has_unit && parse_number(number->text).value_or(0) < 0;
  if (column == "reading_percent" && (lower_case(text).ends_with("dbm") || bare_negative)) {
    return "a level in dBm stands under level_dbm";
  }
  const bool percent = column == "level_dbm" && (text.starts_with('%') || text.ends_with('%'));
  return percent ? "a percentage stands under reading_percent" : "";
}

/// Names are compared as written first, and notes are free.
bool is_text(std::string_view column) {
  return column == "device" || column == "hub" || column == "storey" || column == "note";
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

ReadingRows::ReadingRows(const ReadingsHeader& header, const Site& site, Faults& faults)
    : header_(header),
      site_(site),
      faults_(faults),
      marks_(header.separator),
      devices_(names_of(site.devices)),
      hubs_(names_of(site.hubs)),
      storeys_(names_of(site.storeys)) {}

std::optional<std::size_t> ReadingRows::field_of(std::string_view column) const {
  const auto found = std::ranges::find(header_.columns, column);
  if (found == header_.columns.end()) return {};
  return static_cast<std::size_t>(found - header_.columns.begin());
}

Node ReadingRows::filled(const CsvRecord& record) const {
  Node map;
  map.kind = Node::Kind::mapping;
  map.mark = record.mark();
  for (std::size_t i = 0; i < header_.columns.size(); ++i) {
    const CsvField& field = record.fields[i];
    const std::string_view column = header_.columns[i];
    const std::string_view text = unwrapped(field.text);
    if (column.empty() || (field.sound && trimmed(text).empty())) continue;
    Node value;
    value.kind = field.sound ? Node::Kind::scalar : Node::Kind::refused;
    value.mark = field.mark;
    value.text = is_text(column) ? field.text : std::string(text);
    map.entries.push_back({std::string(column), field.mark, kNowhere, std::move(value)});
  }
  return map;
}

Reading ReadingRows::read(const CsvRecord& record, std::size_t position) {
  Reading reading;
  reading.line = record.mark().line;
  if (!fits(record)) {
    report_count(record, position);
    return reading;
  }
  report_nameless(record, position);
  Row row(record, filled(record), position, faults_);
  reading.device = device(row);
  reading.hub = known_name(row, "hub", hubs_);
  read_value(row, reading);
  if (row.reader.find("doors")) reading.doors_open = row.reader.word_or<bool>("doors", kDoorWords, false);
  reading.place = place(row, reading.device);
  reading.note = row.reader.text_or_empty("note");
  return reading;
}

/// A row may go on with empty fields, but not where the decimal comma of a number may have made one more.
bool ReadingRows::fits(const CsvRecord& record) const {
  const bool goes_on = record.count > header_.width && record.filled <= header_.width;
  return record.count == header_.width || (goes_on && header_.separator != ',');
}

/// Tells of what stands under the empty columns at the end.
void ReadingRows::report_nameless(const CsvRecord& record, std::size_t position) {
  if (record.filled <= header_.columns.size()) return;
  const std::size_t last = record.fields.size() - 1;  // what stands in fields that are not kept is told there
  const auto from = static_cast<std::ptrdiff_t>(std::min(header_.columns.size(), last));
  const auto first = std::find_if(record.fields.begin() + from, record.fields.end() - 1,
                                  [](const CsvField& field) { return !field.sound || !field.text.empty(); });
  faults_.add(first->mark, DiagnosticCode::unknown_key, "/" + std::to_string(position),
              "a value in a column without a name", "name its column in the header, or take it out");
}

void ReadingRows::report_count(const CsvRecord& record, std::size_t position) {
  if (!record.sound()) return;  // where its fields end is not known
  const std::string counts = "the header has " + std::to_string(header_.width) +
                             (header_.width == 1 ? " field" : " fields") + ", this row " +
                             std::to_string(record.count);
  const bool more = record.count > header_.width;
  const std::string path = "/" + std::to_string(position);
  if (!more && report_two_ways(record, header_.separator, path, counts, faults_)) return;
  const std::string separator = separator_name(header_.separator);
  std::string hint = more ? "text with a " + separator + " takes quotation marks"
                          : "an empty field still has its " + separator;
  if (more && header_.separator == ',') hint += ", and so do decimals with one";
  const bool kept = more && header_.width < record.fields.size();
  faults_.add(kept ? record.fields[header_.width].mark : record.mark(), DiagnosticCode::wrong_count, path,
              counts, std::move(hint));
}

std::string ReadingRows::device(Row& row) {
  const auto field = field_of("device");
  if (!field) return {};
  if (!row.reader.find("device")) {
    faults_.add(row.record.fields[*field].mark, DiagnosticCode::missing_key, row.self.pointer_to("device"),
                "device: expected a name, found nothing");
  }
  return known_name(row, "device", devices_).value_or("");
}

std::optional<std::string> ReadingRows::known_name(Row& row, std::string_view column,
                                                   const std::unordered_set<std::string>& known) {
  const auto value = row.reader.find(column);
  const auto name = value ? read_name(*value, faults_) : std::optional<std::string>();
  if (!name || known.contains(*name)) return name;
  std::string bare(unwrapped(*name));
  if (known.contains(bare)) return bare;
  if (bare.starts_with('\'') && known.contains(bare.substr(1)))
    return bare.substr(1);  // as write_csv() has it
  faults_.add(value->mark(), DiagnosticCode::unknown_name, value->pointer(),
              "unknown " + std::string(column) + " " + quoted(*name), name_hint(column, *name, known));
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
  if (other_separator(name, header_.separator)) {
    return separator_name(header_.separator) + "s separate the fields of this file";
  }
  std::vector<std::string> sorted(known.begin(), known.end());
  std::ranges::sort(sorted);
  return nearest_hint(name, sorted);
}

std::optional<double> ReadingRows::number(Row& row, std::string_view column, const Range& range) {
  const auto value = row.reader.find(column);
  if (!value || value->node().kind != Node::Kind::scalar) return {};
  const std::string& written = value->node().text;
  const auto number = sheet_number(written, schema::key_unit(column));
  const auto refuse = [&](const std::string& what, std::string hint) {
    add_fault(*value, DiagnosticCode::wrong_type, "expected " + what + ", found " + quoted(written, '"'),
              std::move(hint), faults_);
    return std::optional<double>();
  };
  std::string other_column = other_column_hint(column, written, number);
  if (!other_column.empty()) {
    return refuse(column == "level_dbm" ? "a level in dBm" : "a percentage", std::move(other_column));
  }
  std::string parted = number ? "" : parted_hint(written, schema::key_unit(column));
  if (!parted.empty()) return refuse("a number", std::move(parted));
  if (!number) return read_number(*value, range, faults_);  // it tells why
  marks_.note(*number, range, *value);
  Node plain = value->node();
  plain.text = number->text;
  return read_number(Cursor::at_key(row.self, column, plain), range, faults_);
}

void ReadingRows::read_value(Row& row, Reading& reading) {
  reading.percent = number(row, "reading_percent", limits::kPercent);
  if (const auto level_dbm = number(row, "level_dbm", limits::kReceivedDbm)) reading.level = Dbm{*level_dbm};
  row.reader.at_most_one_of({"reading_percent", "level_dbm"});
  if (row.reader.find("reading_percent") || row.reader.find("level_dbm")) return;
  auto field = field_of("reading_percent");
  if (!field) field = field_of("level_dbm");
  if (!field) return;  // the header's fault
  faults_.add(row.record.fields[*field].mark, DiagnosticCode::missing_key,
              row.self.pointer_to(header_.columns[*field]),
              "missing one of reading_percent, level_dbm in this reading");
}

std::optional<Placement> ReadingRows::place(Row& row, const std::string& device) {
  const auto filled = [&](std::string_view column) { return row.reader.find(column).has_value(); };
  if (std::ranges::none_of(kPlaceColumns, filled)) return {};
  const std::size_t before = faults_.count();
  for (const std::string_view column : kPlaceColumns) {
    const auto field = field_of(column);
    if (!field || filled(column)) continue;
    faults_.add(row.record.fields[*field].mark, DiagnosticCode::missing_key, row.self.pointer_to(column),
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
    fault.path = row.self.pointer_to("height_m");
    faults_.add(row.record.fields[*field_of("height_m")].mark, std::move(fault));
  }
}

}  // namespace linkmargin::yaml
