#include "linkmargin/site/calibration.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/schema/member.hpp"

namespace linkmargin::schema {

using enum Presence;

template <>
std::span<const Field<Calibration>> fields() {
  using Learned = Calibration;
  static const Field<Learned> rows[] = {
      {"offset_db", number<&Learned::offset_db>(limits::kLearnedOffsetDb), optional,
       "added to every level, both directions: what all links have in common"},
      {"offset_sigma_db", number<&Learned::offset_sigma_db>(limits::kSigmaDb), optional,
       "how sure `offset_db` is: one standard deviation, as all of these"},
      {"exponent_sigma", number<&Learned::exponent_sigma>(limits::kExponentSigma), optional,
       "how sure `exponent` of `radio` is, where the model has one"},
      {"zero_sigma_db", number<&Learned::zero_sigma_db>(limits::kSigmaDb), optional,
       "how sure `zero_dbm` of `reading` is"},
      {"full_sigma_db", number<&Learned::full_sigma_db>(limits::kSigmaDb), optional,
       "how sure `full_dbm` of `reading` is"},
      {"readings", number<&Learned::readings>(limits::kLearnedFrom), optional,
       "how many readings it was learned from", "not said"},
      {"materials", Part{"learned_materials", &limits::kLearnedMaterials}, optional,
       "what was learned of materials, by name", "none"},
      {"radios", Part{"learned_radios", &limits::kLearnedRadios}, optional,
       "what was learned of single hubs, repeaters and devices, by name", "none"},
      {"correlations", Part{"correlations", &limits::kCorrelations}, optional,
       "list of `[parameter, parameter, value]`: how two of them go together", "none"}};
  return rows;
}

template <>
std::span<const Field<LearnedShift>> fields() {
  using Shift = LearnedShift;
  static const Field<Shift> rows[] = {
      {"shift_db", number<&Shift::shift_db>(limits::kLearnedShiftDb), required,
       "added to every loss that the material's row gives; the sum is never under 0, and leakage stays"},
      {"sigma_db", number<&Shift::sigma_db>(limits::kSigmaDb), optional,
       "how sure the shift is, one standard deviation"},
      {"readings", number<&Shift::readings>(limits::kLearnedFrom), optional,
       "how many readings it was learned from", "not said"}};
  return rows;
}

template <>
std::span<const Field<LearnedRadio>> fields() {
  using Radio = LearnedRadio;
  static const Field<Radio> rows[] = {
      {"offset_db", number<&Radio::offset_db>(limits::kLearnedOffsetDb), required,
       "added to every level of its links, both directions, on top of the offset of all"},
      {"sigma_db", number<&Radio::sigma_db>(limits::kSigmaDb), optional,
       "how sure the offset is, one standard deviation"}};
  return rows;
}

}  // namespace linkmargin::schema
