#include "linkmargin/yaml/readings/reading_row.hpp"

#include "linkmargin/base/letter_case.hpp"
#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/schema/key_unit.hpp"
#include "linkmargin/site/validation/checks.hpp"
#include "linkmargin/text/blanks.hpp"
#include "linkmargin/text/look_alike.hpp"
#include "linkmargin/text/moment_text.hpp"
#include "linkmargin/yaml/readings/row_shape.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace linkmargin::yaml {
namespace {

constexpr std::array kDoorWords{EnumName<bool>{"armed", false}, EnumName<bool>{"open", true}};

/// What stands for a reading where nothing arrives; "notheard" is the look of "not heard".
constexpr std::array<std::string_view, 2> kNothingHeard{"notheard", "none"};

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
  constexpr std::array<std::string_view, 5> texts{"device", "hub", "via", "storey", "note"};
  return std::ranges::find(texts, column) != texts.end();
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
    : header_(header), site_(site), faults_(faults), marks_(header.separator) {
  devices_.add(site.devices);
  devices_.add(site.repeaters);
  hubs_.add(site.hubs);
  repeaters_.add(site.repeaters);
  storeys_.add(site.storeys);
}

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

std::optional<Reading> ReadingRows::read(const CsvRecord& record, std::size_t position) {
  Reading reading;
  reading.line = record.mark().line;
  if (!fits(header_, record)) {
    report_count(header_, record, position, faults_);
    return reading;
  }
  report_nameless(header_, record, position, faults_);
  Row row(record, filled(record), position, faults_);
  if (!is_read(row)) return {};
  read_device(row, reading);
  reading.hub = known_name(row, "hub", hubs_);
  read_via(row, reading);
  read_value(row, reading);
  reading.doors_open = doors_open(row);
  read_taken(row, reading);
  reading.place = place(row, reading.device);
  reading.note = row.reader.text_or_empty("note");
  return reading;
}

void ReadingRows::read_device(Row& row, Reading& reading) {
  const auto field = field_of("device");
  if (!field) return;
  if (!row.reader.find("device")) {
    faults_.add(row.record.fields[*field].mark, DiagnosticCode::missing_key, row.self.pointer_to("device"),
                "device: expected a name, found nothing");
  }
  reading.device = known_name(row, "device", devices_).value_or("");
  reading.of_repeater =
      std::ranges::find(site_.repeaters, reading.device, &Repeater::name) != site_.repeaters.end();
}

void ReadingRows::read_via(Row& row, Reading& reading) {
  reading.via = known_name(row, "via", repeaters_);
  if (!reading.via || *reading.via != reading.device) return;
  add_fault(*row.reader.find("via"), DiagnosticCode::impossible,
            quoted(*reading.via) + " cannot be enrolled at itself", "", faults_);
}

std::optional<bool> ReadingRows::doors_open(Row& row) {
  const auto value = row.reader.find("doors");
  if (!value) return {};
  Node plain = value->node();
  const std::string look = look_of(plain.text);
  for (const auto& [word, open] : kDoorWords) {
    if (plain.kind == Node::Kind::scalar && look == word) return open;
  }
  return row.reader.word_or<bool>("doors", kDoorWords, false);  // it tells why not
}

void ReadingRows::read_taken(Row& row, Reading& reading) {
  const auto value = row.reader.find("taken");
  if (!value || value->node().kind != Node::Kind::scalar) return;
  const std::string& written = value->node().text;
  if (const auto taken = moment_text(trimmed(written))) {
    reading.taken = *taken;
    return;
  }
  const auto meant = meant_moment(trimmed(written));
  add_fault(*value, DiagnosticCode::wrong_type,
            "expected a date, a time or both, found " + quoted(written, '"'),
            meant ? "did you mean " + *meant + "?" : "write 2026-03-01, 2026-03-01 14:05 or 14:05", faults_);
}

std::optional<std::string> ReadingRows::known_name(Row& row, std::string_view column,
                                                   const KnownNames& known) {
  const auto value = row.reader.find(column);
  const auto name = value ? read_name(*value, faults_) : std::optional<std::string>();
  if (!name) return {};
  if (auto found = known.find(*name)) return found;
  faults_.add(value->mark(), DiagnosticCode::unknown_name, value->pointer(),
              "unknown " + std::string(column == "via" ? "repeater" : column) + " " + quoted(*name),
              name_hint(column, *name, known));
  return {};
}

std::string ReadingRows::name_hint(std::string_view column, const std::string& name,
                                   const KnownNames& known) {
  constexpr int most =
      100;  // the search for near names is slow, and a wrong site file makes every row unknown
  if (++hints_ > most) return {};
  std::string other = other_noun_hint(site_, column, name);
  if (!other.empty()) return other;
  if (other_separator(name, header_.separator)) {
    return separator_name(header_.separator) + "s separate the fields of this file";
  }
  return nearest_hint(name, known.sorted());
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

/// A file without a column of readings is the header's fault.
bool ReadingRows::is_read(Row& row) const {
  const bool there = field_of("reading_percent") || field_of("level_dbm");
  return !there || row.reader.find("reading_percent") || row.reader.find("level_dbm");
}

/// Whether words say so, in either column.
bool ReadingRows::heard_nothing(Row& row) const {
  const auto says = [&](std::string_view column) {
    const auto value = row.reader.find(column);
    return value && value->node().kind == Node::Kind::scalar &&
           std::ranges::find(kNothingHeard, look_of(value->node().text)) != kNothingHeard.end();
  };
  return says("reading_percent") || says("level_dbm");
}

void ReadingRows::read_value(Row& row, Reading& reading) {
  row.reader.at_most_one_of({"reading_percent", "level_dbm"});
  if (heard_nothing(row)) {
    reading.percent = 0;
    reading.not_heard = true;
    return;
  }
  reading.percent = number(row, "reading_percent", limits::kPercent);
  if (const auto level_dbm = number(row, "level_dbm", limits::kReceivedDbm)) reading.level = Dbm{*level_dbm};
}

std::optional<Placement> ReadingRows::place(Row& row, const std::string& device) {
  const auto filled = [&](std::string_view column) { return row.reader.find(column).has_value(); };
  if (std::ranges::none_of(kPlanColumns, filled)) return {};
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
  const std::optional<Mount> no_mount;
  Diagnostics found;
  checks::check_height(site_, {"devices", name, no_profile, place, fixed, no_mount}, found);
  for (Diagnostic& fault : found) {
    fault.path = row.self.pointer_to("height_m");
    faults_.add(row.record.fields[*field_of("height_m")].mark, std::move(fault));
  }
}

}  // namespace linkmargin::yaml
