#include "linkmargin/yaml/site/profiles_yaml.hpp"

#include "linkmargin/site/limits.hpp"

namespace linkmargin::yaml {
namespace {

void read_power(ObjectReader& reader, Profile& profile) {
  using Kind = TransmitPower::Kind;
  constexpr EnumName<Kind> powers[] = {
      {"erp_dbm", Kind::erp}, {"eirp_dbm", Kind::eirp}, {"power_dbm", Kind::conducted}};
  reader.at_most_one_of({"erp_dbm", "eirp_dbm", "power_dbm"});
  for (const auto& [key, kind] : powers) {
    const auto value = reader.number_if(key, limits::kPowerDbm);
    if (value && !profile.transmit) profile.transmit = TransmitPower{kind, Dbm{*value}};
  }
  const auto gain_dbi = reader.number_if("gain_dbi", limits::kGainDbi);
  const bool conducted = profile.transmit && profile.transmit->kind == Kind::conducted;
  if (conducted && !gain_dbi) reader.missing({"gain_dbi"});
  profile.gain_dbi = gain_dbi.value_or(0);
}

void read_sensitivity(ObjectReader& reader, Profile& profile) {
  const auto level_dbm = reader.number_if("sensitivity_dbm", limits::kSensitivityDbm);
  const auto bandwidth_khz = reader.number_if("bandwidth_khz", limits::kBandwidthKhz);
  const auto noise_figure_db = reader.number_if("noise_figure_db", limits::kNoiseFigureDb);
  const auto required_snr_db = reader.number_if("required_snr_db", limits::kSnrDb);
  if (level_dbm) {
    profile.sensitivity = Dbm{*level_dbm};
    constexpr const char* twice = "stands beside sensitivity_dbm";
    constexpr const char* hint =
        "give sensitivity_dbm, or bandwidth_khz, noise_figure_db and required_snr_db";
    if (bandwidth_khz) reader.fault("bandwidth_khz", twice, hint);
    if (noise_figure_db) reader.fault("noise_figure_db", twice, hint);
    if (required_snr_db) reader.fault("required_snr_db", twice, hint);
  } else if (bandwidth_khz || noise_figure_db || required_snr_db) {
    if (!bandwidth_khz) reader.missing({"bandwidth_khz"});
    if (!noise_figure_db) reader.missing({"noise_figure_db"});
    if (!required_snr_db) reader.missing({"required_snr_db"});
    profile.sensitivity = ReceiverNoise{bandwidth_khz.value_or(1) * 1e3, noise_figure_db.value_or(0),
                                        required_snr_db.value_or(0)};
  }
}

Profile read_profile(const Cursor& cursor, const std::string& name, Faults& faults) {
  ObjectReader reader(cursor, label("profile", name), faults);
  Profile profile;
  profile.name = name;
  read_power(reader, profile);
  read_sensitivity(reader, profile);
  profile.two_way = reader.flag_or("two_way", false);
  profile.mount_loss_db = reader.number_or("mount_loss_db", limits::kBodyLossDb, 0);
  profile.body_loss_db = reader.number_or("body_loss_db", limits::kBodyLossDb, 0);
  profile.sigma_db = reader.number_or("sigma_db", limits::kSigmaDb, 0);
  profile.device_class = reader.name_if("class").value_or("");
  profile.fixed_by_rule = reader.flag_or("fixed_by_rule", false);
  profile.source = reader.text_or_empty("source");
  profile.note = reader.text_or_empty("note");
  reader.finish();
  const bool receives = !std::holds_alternative<std::monostate>(profile.sensitivity);
  if (reader.sound() && profile.two_way && !receives) {
    reader.fault("two_way", "the profile does not receive", "give it a sensitivity");
  }
  if (reader.sound() && !profile.transmit && !receives) {
    faults.add(cursor.mark(), cursor.pointer(), label("profile", name) + " neither transmits nor receives",
               "give it a power, a sensitivity or both");
  }
  return profile;
}

}  // namespace

void read_profiles(const Cursor& map, ProfileTable& into, Faults& faults) {
  for_each_named(map, limits::kTableRows, faults, [&](const Cursor& cursor, const Entry& entry) {
    into.insert_or_assign(entry.key, read_profile(cursor, entry.key, faults));
  });
}

}  // namespace linkmargin::yaml
