#include "linkmargin/yaml/readings/places_csv.hpp"

#include "linkmargin/base/letter_case.hpp"
#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/text/blanks.hpp"
#include "linkmargin/text/csv_text.hpp"
#include "linkmargin/text/sheet_number.hpp"
#include "linkmargin/yaml/readings/known_names.hpp"

#include <algorithm>
#include <array>
#include <optional>
#include <utility>

namespace linkmargin::yaml {
namespace {

enum Column : std::size_t { kName, kProfile, kStorey, kX, kY, kHeight, kHub, kColumns };
constexpr std::array<std::string_view, kColumns> kColumnNames{"name", "profile",  "storey", "x_m",
                                                              "y_m",  "height_m", "hub"};

/// Reads the rows against the names of a site.
class PlaceRows {
 public:
  PlaceRows(const Site& site, Faults& faults) : site_(site), faults_(faults) {
    storeys_.add(site.storeys);
    hubs_.add(site.hubs);
    for (const auto& [name, profile] : site.profiles) {
      if (profile.transmit) profiles_.push_back(name);
    }
  }

  /// @return whether rows can be read by it
  bool read_header(const CsvRecord& record) {
    field_of_.fill(std::nullopt);
    for (std::size_t i = 0; i < std::min(record.filled, record.fields.size()); ++i) {
      const std::string name = lower_case(trimmed(unwrapped(record.fields[i].text)));
      const auto known = std::ranges::find(kColumnNames, name);
      if (known == kColumnNames.end()) {
        faults_.add(record.fields[i].mark, DiagnosticCode::unknown_name, "", "unknown column " + quoted(name),
                    nearest_hint(name, std::vector<std::string>(kColumnNames.begin(), kColumnNames.end())));
        continue;
      }
      auto& field = field_of_[static_cast<std::size_t>(known - kColumnNames.begin())];
      if (field)
        faults_.add(record.fields[i].mark, DiagnosticCode::given_twice, "",
                    "duplicate column " + quoted(name));
      field = i;
    }
    for (const Column column : {kProfile, kStorey, kX, kY, kHeight}) {
      if (field_of_[column] || (column == kStorey && site_.storeys.size() == 1)) continue;
      faults_.add(record.mark(), DiagnosticCode::missing_key, "",
                  "the column " + quoted(kColumnNames[column]) + " is missing");
    }
    return faults_.empty();
  }

  Device read(const CsvRecord& record, std::size_t row) {
    Device device;
    device.name = text(record, kName);
    if (device.name.empty()) device.name = "place " + std::to_string(row + 1);
    device.profile = text(record, kProfile);
    if (std::ranges::find(profiles_, device.profile) == profiles_.end())
      refuse_name(record, kProfile, "profile that sends", device.profile, profiles_);
    if (field_of_[kStorey]) device.place.storey = storey(record);
    device.place.at =
        snapped({number(record, kX, limits::kPlanCoordinateM), number(record, kY, limits::kPlanCoordinateM)});
    device.place.height_m = number(record, kHeight, limits::kRadioHeightM);
    if (const std::string hub = text(record, kHub); !hub.empty()) {
      device.hub = hubs_.find(hub);
      if (!device.hub) refuse_name(record, kHub, "hub", hub, hubs_.sorted());
    }
    return device;
  }

 private:
  const CsvField* field(const CsvRecord& record, Column column) const {
    const auto& position = field_of_[column];
    return position && *position < record.fields.size() ? &record.fields[*position] : nullptr;
  }

  std::string text(const CsvRecord& record, Column column) const {
    const CsvField* found = field(record, column);
    return found == nullptr ? std::string() : std::string(trimmed(unwrapped(found->text)));
  }

  Mark mark(const CsvRecord& record, Column column) const {
    const CsvField* found = field(record, column);
    return found == nullptr ? record.mark() : found->mark;
  }

  void refuse_name(const CsvRecord& record, Column column, const std::string& what, const std::string& name,
                   const std::vector<std::string>& known) {
    faults_.add(mark(record, column), DiagnosticCode::unknown_name, "",
                "unknown " + what + " " + quoted(name), faults_.full() ? "" : nearest_hint(name, known));
  }

  std::size_t storey(const CsvRecord& record) {
    const std::string written = text(record, kStorey);
    const auto name = storeys_.find(written);
    if (!name) {
      refuse_name(record, kStorey, "storey", written, storeys_.sorted());
      return 0;
    }
    return static_cast<std::size_t>(std::ranges::find(site_.storeys, *name, &Storey::name) -
                                    site_.storeys.begin());
  }

  double number(const CsvRecord& record, Column column, const Range& range) {
    const std::string written = text(record, column);
    const auto sheet = sheet_number(written, "m");
    const auto value = sheet ? parse_number(sheet->text) : std::nullopt;
    if (value && range.contains(*value)) return *value;
    const std::string expected =
        value ? " between " + shortest_text(range.min) + " and " + shortest_text(range.max) : "";
    faults_.add(mark(record, column), value ? DiagnosticCode::outside_range : DiagnosticCode::wrong_type, "",
                std::string(kColumnNames[column]) + ": expected a number" + expected + ", found " +
                    quoted(written, '"'));
    return 0;
  }

  const Site& site_;
  Faults& faults_;
  KnownNames storeys_, hubs_;
  std::vector<std::string> profiles_;
  std::array<std::optional<std::size_t>, kColumns> field_of_{};
};

std::vector<Device> read_places(std::string_view text, const Site& site, Faults& faults) {
  CsvText records(text, csv_layout(text, faults), faults);
  PlaceRows rows(site, faults);
  std::vector<Device> places;
  bool header = false;
  for (auto record = records.next(); record; record = records.next()) {
    if (record->blank()) continue;
    if (!header) {
      if (!rows.read_header(*record)) return {};
      header = true;
      continue;
    }
    if (places.size() == kMostPlaces) {
      faults.add(record->mark(), DiagnosticCode::too_large, "",
                 "a file holds at most " + std::to_string(kMostPlaces) + " places");
      return {};
    }
    places.push_back(rows.read(*record, places.size()));
  }
  if (places.empty() && faults.empty())
    faults.add({1, 1}, DiagnosticCode::missing_key, "", "the file holds no places");
  return places;
}

}  // namespace
}  // namespace linkmargin::yaml

namespace linkmargin {

Result<std::vector<Device>> parse_places(std::string_view text, const std::string& file_name,
                                         const Site& site) {
  Faults faults(file_name);
  const auto decoded = decoded_sheet_text(text, faults, kMaxPlacesBytes);
  if (!decoded) return std::move(faults).sorted();
  std::vector<Device> places = yaml::read_places(*decoded, site, faults);
  if (faults.empty()) return places;
  return std::move(faults).sorted();
}

}  // namespace linkmargin
