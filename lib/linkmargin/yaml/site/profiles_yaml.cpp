#include "linkmargin/yaml/site/profiles_yaml.hpp"

#include "linkmargin/site/limits.hpp"
#include "linkmargin/yaml/fields/field_reader.hpp"

#include <algorithm>

namespace linkmargin::yaml {
namespace {

constexpr const char* kNoiseKeys[] = {"bandwidth_khz", "noise_figure_db", "required_snr_db"};

/// What the power and the sensitivity of a profile need beside them, and what they exclude.
void check_parts(const Node& node, ObjectReader& reader) {
  const auto given = [&](std::string_view key) { return find(node, key) != nullptr; };
  const bool conducted = given("power_dbm") && !given("erp_dbm") && !given("eirp_dbm");
  if (conducted && !given("gain_dbi")) reader.missing({"gain_dbi"});
  const bool any_noise = std::ranges::any_of(kNoiseKeys, given);
  for (const char* key : kNoiseKeys) {
    if (given("sensitivity_dbm") && given(key)) {
      reader.fault(DiagnosticCode::conflicting_keys, key, "stands beside sensitivity_dbm",
                   "give sensitivity_dbm, or bandwidth_khz, noise_figure_db and required_snr_db");
    } else if (any_noise && !given("sensitivity_dbm") && !given(key)) {
      reader.missing({key});
    }
  }
}

Profile read_profile(const Cursor& cursor, const std::string& name, Faults& faults) {
  ObjectReader reader(cursor, label("profile", name), faults);
  Profile profile;
  profile.name = name;
  reader.at_most_one_of({"erp_dbm", "eirp_dbm", "power_dbm"});
  reader.at_most_one_of({"height_m", "below_ceiling_m"});
  read_fields(reader, profile, {faults});
  if (cursor.node().kind == Node::Kind::mapping) check_parts(cursor.node(), reader);
  reader.finish();
  const bool receives = !std::holds_alternative<std::monostate>(profile.sensitivity);
  if (reader.sound() && profile.two_way && !receives) {
    reader.fault(DiagnosticCode::conflicting_keys, "two_way", "the profile does not receive",
                 "give it a sensitivity");
  }
  if (reader.sound() && !profile.transmit && !receives) {
    faults.add(cursor.mark(), DiagnosticCode::missing_key, cursor.pointer(),
               label("profile", name) + " neither transmits nor receives",
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
