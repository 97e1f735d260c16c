#include "linkmargin/site/validation/sub_bands.hpp"

#include "linkmargin/base/constants.hpp"
#include "linkmargin/base/embedded.hpp"
#include "linkmargin/base/joined.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/text/csv_text.hpp"

#include <cmath>
#include <span>
#include <stdexcept>
#include <string_view>

namespace linkmargin {
namespace {

constexpr EnumName<SubBand::LimitOf> kLimitWords[] = {{"erp_mw", SubBand::LimitOf::erp_mw},
                                                      {"eirp_dbm", SubBand::LimitOf::eirp_dbm},
                                                      {"field_uv_per_m", SubBand::LimitOf::field_uv_per_m}};
constexpr std::size_t kColumns = 10;
constexpr double kFieldDistanceM = 3;  ///< at which 47 CFR 15 states field strengths

[[noreturn]] void fail(const std::string& what) {
  throw std::logic_error("the table of sub-bands is faulty: " + what);
}

double number(const CsvField& field) {
  const auto value = parse_number(field.text);
  if (!value) fail(field.text);
  return *value;
}

template <typename Meaning>
Meaning word(const CsvField& field, std::span<const EnumName<Meaning>> words) {
  for (const auto& [text, meaning] : words) {
    if (field.text == text) return meaning;
  }
  fail(field.text);
}

SubBand row_of(const CsvRecord& record) {
  if (record.count != kColumns) fail(record.fields.front().text);
  const auto& field = record.fields;
  SubBand band{.region = word<Region>(field[0], kRegionWords),
               .from_hz = hz_from_mhz(number(field[1])),
               .to_hz = hz_from_mhz(number(field[2])),
               .limit_of = word<SubBand::LimitOf>(field[3], kLimitWords),
               .limit_at_from = number(field[4]),
               .limit_at_to = number(field[5]),
               .duty_percent = {},
               .only_hopping_or_wide = !field[7].text.empty(),
               .rule = field[8].text,
               .source = field[9].text};
  if (!field[6].text.empty()) band.duty_percent = number(field[6]);
  if (band.only_hopping_or_wide && field[7].text != "hopping_or_wide") fail(field[7].text);
  return band;
}

/// The file without the lines of comments before its header.
std::string table_text() {
  const std::string text = joined(embedded::sub_bands(), "");
  std::size_t begin = 0;
  while (text.compare(begin, 1, "#") == 0) begin = text.find('\n', begin) + 1;
  return text.substr(begin);
}

std::vector<SubBand> read_table() {
  const std::string text = table_text();
  Faults faults("sub-bands.csv");
  CsvText records(text, {}, faults);
  std::vector<SubBand> bands;
  (void)records.next();  // the header
  for (auto record = records.next(); record; record = records.next()) {
    if (!record->blank()) bands.push_back(row_of(*record));
  }
  if (!faults.empty()) fail("it is no CSV");
  return bands;
}

}  // namespace

const std::vector<SubBand>& sub_bands() {
  static const std::vector<SubBand> bands = read_table();
  return bands;
}

double erp_limit_dbm(const SubBand& band, double frequency_hz) {
  const double along = (frequency_hz - band.from_hz) / (band.to_hz - band.from_hz);
  const double limit = band.limit_at_from + along * (band.limit_at_to - band.limit_at_from);
  switch (band.limit_of) {
    case SubBand::LimitOf::erp_mw:
      return 10 * std::log10(limit);
    case SubBand::LimitOf::eirp_dbm:
      return limit - kEirpOverErpDb;
    case SubBand::LimitOf::field_uv_per_m:
      break;
  }
  const double field_v_per_m = limit * 1e-6;
  const double eirp_w = field_v_per_m * field_v_per_m * kFieldDistanceM * kFieldDistanceM / 30;  // free space
  return 10 * std::log10(1000 * eirp_w) - kEirpOverErpDb;
}

const SubBand* sub_band(Region region, double frequency_hz, bool only_hopping_or_wide) {
  const SubBand* best = nullptr;
  for (const SubBand& band : sub_bands()) {
    if (band.region != region || band.only_hopping_or_wide != only_hopping_or_wide) continue;
    if (frequency_hz < band.from_hz || frequency_hz > band.to_hz) continue;
    if (best == nullptr || erp_limit_dbm(band, frequency_hz) > erp_limit_dbm(*best, frequency_hz))
      best = &band;
  }
  return best;
}

std::optional<double> erp_dbm(const Profile& profile) {
  if (!profile.transmit) return {};
  const double power_dbm = profile.transmit->value.value;
  switch (profile.transmit->kind) {
    case TransmitPower::Kind::erp:
      return power_dbm;
    case TransmitPower::Kind::eirp:
      return power_dbm - kEirpOverErpDb;
    case TransmitPower::Kind::conducted:
      break;
  }
  return power_dbm + profile.gain_dbi - kEirpOverErpDb;
}

}  // namespace linkmargin
