#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/schema/member.hpp"

namespace linkmargin::schema {
namespace {

using enum Presence;

/// The one point of a material that is given by one loss, else nullptr.
template <typename Of>
auto* only_loss(Of& material) {
  auto* measured = std::get_if<MeasuredLoss>(&material.kind);
  return measured != nullptr && measured->points.size() == 1 ? &measured->points.front() : nullptr;
}

std::optional<double> loss_of(const Material& material) {
  const LossPoint* point = only_loss(material);
  return point != nullptr ? std::optional(point->loss_db) : std::nullopt;
}

void set_loss(Material& material, double loss_db) {
  if (LossPoint* point = only_loss(material)) point->loss_db = loss_db;
}

std::optional<double> frequency_of(const Material& material) {
  const LossPoint* point = only_loss(material);
  return point != nullptr && point->frequency_hz > 0 ? std::optional(mhz_from_hz(point->frequency_hz))
                                                     : std::nullopt;
}

void set_frequency(Material& material, double frequency_mhz) {
  if (LossPoint* point = only_loss(material)) point->frequency_hz = hz_from_mhz(frequency_mhz);
}

/// Why the loss of a material cannot be edited by itself.
std::string refuse_loss(const Material& material) {
  const auto* measured = std::get_if<MeasuredLoss>(&material.kind);
  if (measured == nullptr) return "the material is not given by one loss";
  if (material.reflects_percent) return "what the material reflects is given, and goes with its loss";
  return measured->points.size() == 1 ? "" : "the material has losses at several frequencies";
}

}  // namespace

template <>
std::span<const Field<Material>> fields() {
  static const Field<Material> rows[] = {
      {"loss_db", Number<Material>{&limits::kLossDb, loss_of, set_loss}, one_of,
       "one measured loss for one passage, near normal incidence", "", true, refuse_loss},
      {"losses", Part{"losses", &limits::kLossPoints}, one_of,
       "list of losses at several frequencies, interpolated over the logarithm of the frequency"},
      {"electrical", Part{"electrical"}, one_of,
       "relative permittivity and conductivity as ITU-R P.2040 states them"},
      {"layers", Part{"layers", &limits::kLayers}, one_of, "list of layers, from one face to the other"},
      {"frequency_mhz", Number<Material>{&limits::kMaterialFrequencyMhz, frequency_of, set_frequency},
       optional, "where `loss_db` was measured; only with it", "any", kNotByEdit},
      {"sigma_db", number<&Material::sigma_db>(limits::kSigmaDb), optional,
       "spread from one such wall to the next, one standard deviation (default: common practice)"},
      {"leakage_db", number<&Material::leakage_db>(limits::kLeakageDb), optional,
       "loss of what passes round the edges, added to what passes through",
       "none for a measured loss, else 40", kNotByEdit},
      {"reflects_percent", number<&Material::reflects_percent>(limits::kPercent), optional,
       "share of a diffuse field's power that a face reflects",
       "computed; for a measured loss 20, from 40 dB on 99", kNotByEdit},
      {"use", Part{"use", &limits::kUses}, optional, "list of what it is made for", "any"},
      {"source", text<&Material::source>(), optional,
       "publication, \"from memory\", \"common practice\", \"measured on site\""},
      {"verified", text<&Material::verified>(), optional,
       "how far the figure was checked against its source"},
      {"note", text<&Material::note>(), optional, "free text"},
      {"group", Part{"material_group"}, optional,
       "the group of look-alikes that it is picked among (`linkmargin materials`)", "none"}};
  return rows;
}

template <>
std::span<const Field<LossPoint>> fields() {
  static const Field<LossPoint> rows[] = {
      {"frequency_mhz", megahertz<&LossPoint::frequency_hz>(limits::kMaterialFrequencyMhz), required,
       "where the loss was measured; each frequency once"},
      {"loss_db", number<&LossPoint::loss_db>(limits::kLossDb), required, "the loss there"}};
  return rows;
}

template <>
std::span<const Field<ElectricalProperties>> fields() {
  using Electrical = ElectricalProperties;
  static const Field<Electrical> rows[] = {
      {"a", number<&Electrical::a>(limits::kPermittivity), required, "relative permittivity at 1 GHz"},
      {"b", number<&Electrical::b>(limits::kFrequencyPower), required,
       "the permittivity is `a` f^`b`, f in GHz"},
      {"c", number<&Electrical::c>(limits::kConductivity), required, "conductivity at 1 GHz, S/m"},
      {"d", number<&Electrical::d>(limits::kFrequencyPower), required, "the conductivity is `c` f^`d`"},
      {"from_mhz", megahertz<&Electrical::min_frequency_hz>(limits::kMaterialFrequencyMhz), required,
       "lowest frequency for which the source states them"},
      {"to_mhz", megahertz<&Electrical::max_frequency_hz>(limits::kMaterialFrequencyMhz), required,
       "highest frequency for which the source states them"}};
  return rows;
}

template <>
std::span<const Field<Layer>> fields() {
  static const Field<Layer> rows[] = {
      {"of", name<&Layer::material>(), required, "a material with electrical properties, or `air`"},
      {"thickness_m", number<&Layer::thickness_m>(limits::kThicknessM), required, "thickness of the layer"}};
  return rows;
}

}  // namespace linkmargin::schema
