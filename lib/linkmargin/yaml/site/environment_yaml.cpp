#include "linkmargin/yaml/site/environment_yaml.hpp"

#include "linkmargin/site/limits.hpp"

namespace linkmargin::yaml {
PropagationSettings read_environment(const Cursor& cursor, Faults& faults) {
  ObjectReader reader(cursor, "radio", faults);
  PropagationSettings radio;
  radio.frequency_hz = hz_from_mhz(reader.number("frequency_mhz", limits::kFrequencyMhz));
  radio.model = reader.word_or<PathLossModel>("model", kModelWords, radio.model);
  radio.exponent = reader.number_if("exponent", limits::kExponent);
  radio.building_type = reader.name_if("environment").value_or("");
  radio.form = reader.word_or<SiteGeneralForm>("form", kFormWords, radio.form);
  radio.constant_loss_db = reader.number_or("constant_loss_db", limits::kConstantLossDb, 0);
  radio.model_sigma_db = reader.number_if("model_sigma_db", limits::kSigmaDb);
  radio.diffraction = reader.flag_or("diffraction", true);
  radio.reverberation = reader.flag_or("reverberation", true);
  radio.noise = reader.word_or<NoiseArea>("noise", kNoiseAreaWords, radio.noise);
  radio.noise_rise_db = reader.number_or("noise_rise_db", limits::kNoiseRiseDb, 0);
  radio.ground_reflection = reader.flag_or("ground_reflection", false);
  reader.finish();
  const bool model_known = reader.sound();
  if (model_known && radio.model != PathLossModel::site_general && find(cursor.node(), "form") != nullptr) {
    reader.fault("form", "goes with model: site_general only");
  }
  if (model_known && radio.model != PathLossModel::multi_wall &&
      find(cursor.node(), "constant_loss_db") != nullptr) {
    reader.fault("constant_loss_db", "goes with model: multi_wall only");
  }
  return radio;
}

Fading read_fading(const Cursor& cursor, Faults& faults) {
  Fading fading;
  if (cursor.node().kind == Node::Kind::scalar) {
    fading.on = read_flag(cursor, faults).value_or(fading.on);
    return fading;
  }
  ObjectReader reader(cursor, "fading", faults);
  const auto k_db = [&](const char* key, double absent) {
    return reader.number_or(key, limits::kFadingKDb, absent);
  };
  fading.k_in_sight_db = k_db("k_in_sight_db", fading.k_in_sight_db);
  fading.k_behind_walls_db = k_db("k_behind_walls_db", fading.k_behind_walls_db);
  fading.k_over_time_db = k_db("k_over_time_db", fading.k_over_time_db);
  fading.in_space = reader.word_or<bool>("scattering", kScatteringWords, fading.in_space);
  reader.finish();
  return fading;
}

ReadingScale read_reading_scale(const Cursor& cursor, Faults& faults) {
  ObjectReader reader(cursor, "reading", faults);
  ReadingScale scale;
  scale.zero = Dbm{reader.number_or("zero_dbm", limits::kReadingLevelDbm, scale.zero.value)};
  scale.full = Dbm{reader.number_or("full_dbm", limits::kReadingLevelDbm, scale.full.value)};
  scale.weak_below_percent =
      reader.number_or("weak_below_percent", limits::kPercent, scale.weak_below_percent);
  reader.finish();
  return scale;
}

}  // namespace linkmargin::yaml
