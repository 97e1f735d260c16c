#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/radio.hpp"
#include "linkmargin/site/schema/member.hpp"

namespace linkmargin::schema {
namespace {

using enum Presence;
using Power = TransmitPower::Kind;

constexpr EnumName<MountingSurface> kSurfaceWords[] = {{"wall", MountingSurface::wall},
                                                       {"ceiling", MountingSurface::ceiling},
                                                       {"frame", MountingSurface::frame},
                                                       {"floor", MountingSurface::floor}};

/// The power of a profile that states it in this way; of several the first counts.
template <Power kind>
Number<Profile> power() {
  return {&limits::kPowerDbm,
          [](const Profile& profile) {
            const bool so = profile.transmit && profile.transmit->kind == kind;
            return so ? std::optional(profile.transmit->value.value) : std::nullopt;
          },
          [](Profile& profile, double dbm) {
            if (!profile.transmit) profile.transmit = TransmitPower{kind, Dbm{dbm}};
          }};
}

std::optional<double> sensitivity_of(const Profile& profile) {
  const auto* level = std::get_if<Dbm>(&profile.sensitivity);
  return level != nullptr ? std::optional(level->value) : std::nullopt;
}

void set_sensitivity(Profile& profile, double dbm) {
  profile.sensitivity = Dbm{dbm};
}

/// A part of what gives the sensitivity of a profile that does not state it. @tparam Unit of the key, in the
/// member's
template <auto Value, int Unit = 1>
Number<Profile> noise(const Range& range) {
  return {&range,
          [](const Profile& profile) {
            const auto* noise = std::get_if<ReceiverNoise>(&profile.sensitivity);
            return noise != nullptr ? std::optional(noise->*Value / Unit) : std::nullopt;
          },
          [](Profile& profile, double value) {
            if (std::holds_alternative<Dbm>(profile.sensitivity)) return;
            if (std::holds_alternative<std::monostate>(profile.sensitivity))
              profile.sensitivity = ReceiverNoise{.bandwidth_hz = 1e3};
            std::get<ReceiverNoise>(profile.sensitivity).*Value = value * Unit;
          }};
}

}  // namespace

template <>
std::span<const Field<Profile>> fields() {
  static const Field<Profile> rows[] = {
      {"erp_dbm", power<Power::erp>(), optional, "radiated power relative to a half-wave dipole (e.r.p.)",
       "none"},
      {"eirp_dbm", power<Power::eirp>(), optional,
       "radiated power relative to an isotropic antenna (e.i.r.p.)", "none"},
      {"power_dbm", power<Power::conducted>(), optional,
       "conducted power at the antenna port; then `gain_dbi` is required", "none"},
      {"gain_dbi", number<&Profile::gain_dbi>(limits::kGainDbi), optional,
       "antenna gain on reception, and on transmission with `power_dbm`"},
      {"sensitivity_dbm", Number<Profile>{&limits::kSensitivityDbm, sensitivity_of, set_sensitivity},
       optional, "weakest level that the receiver decodes", "none"},
      {"bandwidth_khz", noise<&ReceiverNoise::bandwidth_hz, 1000>(limits::kBandwidthKhz), optional,
       "receiver bandwidth; with the next two, instead of `sensitivity_dbm`", "none"},
      {"noise_figure_db", noise<&ReceiverNoise::noise_figure_db>(limits::kNoiseFigureDb), optional,
       "receiver noise figure", "none"},
      {"required_snr_db", noise<&ReceiverNoise::required_snr_db>(limits::kSnrDb), optional,
       "signal-to-noise ratio that the receiver needs", "none"},
      {"two_way", on_or_off<&Profile::two_way>(), optional,
       "the answer counts too: the weaker direction is judged; needs a power and a sensitivity"},
      {"mount_loss_db", number<&Profile::mount_loss_db>(limits::kBodyLossDb), optional,
       "loss of the usual mounting place, both directions"},
      {"body_loss_db", number<&Profile::body_loss_db>(limits::kBodyLossDb), optional,
       "loss of a hand or body at the device, both directions"},
      {"sigma_db", number<&Profile::sigma_db>(limits::kSigmaDb), optional,
       "how far such radios differ from these figures, one standard deviation"},
      {"reserve_db", number<&Profile::reserve_db>(limits::kReserveDb), optional,
       "reserve over the receiver's sensitivity that the rules for such radios ask for; it has no effect "
       "yet"},
      {"class", name<&Profile::device_class>(), optional, "which of a hub's slots it takes, such as `fobs`",
       "none"},
      {"fixed_by_rule", on_or_off<&Profile::fixed_by_rule>(), optional,
       "more than radio rules its place: smoke and heat detectors, hold-up buttons"},
      {"height_m", number<&Profile::height_m>(limits::kRadioHeightM), optional,
       "where such radios are usually fixed, above the floor: for those that say no height", "none"},
      {"below_ceiling_m", number<&Profile::below_ceiling_m>(limits::kSillM), optional,
       "the same, counted down from the ceiling; instead of `height_m`", "none"},
      {"mounted_on", word<kSurfaceWords, &Profile::mounted_on>(), optional,
       "what it is screwed to: a `wall`, a `ceiling`, the `frame` of the opening that it watches, or "
       "nothing: it lies on the `floor`"},
      {"may_turn", on_or_off<&Profile::may_turn>(), optional,
       "it works as well turned by a quarter: lying instead of upright, or about its own axis"},
      {"source", text<&Profile::source>(), optional, "where the figures come from"},
      {"note", text<&Profile::note>(), optional, "free text"}};
  return rows;
}

}  // namespace linkmargin::schema
