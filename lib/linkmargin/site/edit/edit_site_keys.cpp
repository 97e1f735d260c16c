#include "linkmargin/site/edit/edit_keys.hpp"
#include "linkmargin/site/environment.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/material.hpp"

namespace linkmargin::edits {
namespace {

template <const auto& Words>
std::vector<std::string> words() {
  std::vector<std::string> texts;
  for (const auto& word : Words) texts.emplace_back(word.word);
  return texts;
}

std::string refuse_loss(const Material& material) {
  const auto* measured = std::get_if<MeasuredLoss>(&material.kind);
  if (measured == nullptr) return "the material is not given by one loss";
  if (material.reflects_percent) return "what the material reflects is given, and goes with its loss";
  return measured->points.size() == 1 ? "" : "the material has losses at several frequencies";
}

void set_loss(Material& material, double loss_db) {
  std::get<MeasuredLoss>(material.kind).points.front().loss_db = loss_db;
}

}  // namespace

template <>
std::span<const EditKey<PropagationSettings>> edit_keys() {
  using Radio = PropagationSettings;
  static const EditKey<Radio> keys[] = {
      {"frequency_mhz", NumberKey<Radio>{&limits::kFrequencyMhz,
                                         [](Radio& r, double mhz) { r.frequency_hz = hz_from_mhz(mhz); }}},
      {"model",
       WordKey<Radio>{words<kModelWords>, [](Radio& r, std::size_t i) { r.model = kModelWords[i].meaning; }}},
      {"exponent", NumberKey<Radio>{&limits::kExponent, [](Radio& r, double n) { r.exponent = n; }}},
      {"environment", NameKey<Radio>{[](Radio& r, const std::string& name) { r.building_type = name; }}},
      {"form",
       WordKey<Radio>{words<kFormWords>, [](Radio& r, std::size_t i) { r.form = kFormWords[i].meaning; }}},
      {"constant_loss_db",
       NumberKey<Radio>{&limits::kConstantLossDb, [](Radio& r, double db) { r.constant_loss_db = db; }}},
      {"model_sigma_db",
       NumberKey<Radio>{&limits::kSigmaDb, [](Radio& r, double db) { r.model_sigma_db = db; }}},
      {"diffraction", FlagKey<Radio>{[](Radio& r, bool on) { r.diffraction = on; }}},
      {"reverberation", FlagKey<Radio>{[](Radio& r, bool on) { r.reverberation = on; }}},
      {"noise", WordKey<Radio>{words<kNoiseAreaWords>,
                               [](Radio& r, std::size_t i) { r.noise = kNoiseAreaWords[i].meaning; }}},
      {"noise_rise_db",
       NumberKey<Radio>{&limits::kNoiseRiseDb, [](Radio& r, double db) { r.noise_rise_db = db; }}},
      {"ground_reflection", FlagKey<Radio>{[](Radio& r, bool on) { r.ground_reflection = on; }}}};
  return keys;
}

template <>
std::span<const EditKey<ReadingScale>> edit_keys() {
  using Scale = ReadingScale;
  static const EditKey<Scale> keys[] = {
      {"zero_dbm",
       NumberKey<Scale>{&limits::kReadingLevelDbm, [](Scale& s, double dbm) { s.zero = Dbm{dbm}; }}},
      {"full_dbm",
       NumberKey<Scale>{&limits::kReadingLevelDbm, [](Scale& s, double dbm) { s.full = Dbm{dbm}; }}},
      {"weak_below_percent", NumberKey<Scale>{&limits::kPercent, [](Scale& s, double percent) {
                                                s.weak_below_percent = percent;
                                              }}}};
  return keys;
}

template <>
std::span<const EditKey<Material>> edit_keys() {
  static const EditKey<Material> keys[] = {
      {"loss_db", NumberKey<Material>{&limits::kLossDb, set_loss}, refuse_loss},
      {"sigma_db", NumberKey<Material>{&limits::kSigmaDb, [](Material& m, double db) { m.sigma_db = db; }}}};
  return keys;
}

}  // namespace linkmargin::edits
