#include "linkmargin/site/layout/usual.hpp"
#include "linkmargin/site/schema/construction_fields.hpp"

/// The tables of what is usual: data/opening-kinds.yaml and data/constructions.yaml.
namespace linkmargin::schema {

using enum Presence;

template <>
std::span<const Field<layout::OpeningKind>> fields() {
  using Kind = layout::OpeningKind;
  static const Field<Kind> rows[] = {
      {"width_m", number<&Kind::width_m>(limits::kOpeningWidthM), required, "its width"},
      {"sill_m", number<&Kind::sill_m>(limits::kSillM), optional, "lower edge above the floor"},
      {"height_m", number<&Kind::height_m>(limits::kHeightM), required, "from sill to head"},
      {"leaf", name<&Kind::leaf, &Construction::material>(), required, "the material that closes it"},
      {"leaf_thickness_m", number<&Kind::leaf, &Construction::thickness_m>(limits::kThicknessM), optional,
       "thickness of the leaf", "none"},
      {"opens", on_or_off<&Kind::opens>(), optional, "whether it stands open when doors are open"},
      {"contact_m", number<&Kind::contact_m>(limits::kHeightM), required,
       "where a contact hangs on its frame, above the floor"},
      {"source", text<&Kind::source>(), required, "where the figures come from"}};
  return rows;
}

template <>
std::span<const Field<layout::HouseConstruction>> fields() {
  using House = layout::HouseConstruction;
  static const Field<House> rows[] = {
      {"outer_wall", made_of<&House::outer_wall>(), required, "walls to the outside"},
      {"inner_wall", made_of<&House::inner_wall>(), required, "walls between rooms"},
      {"ground_floor", made_of<&House::ground_floor>(), required, "the slab under the lowest storey"},
      {"floor", made_of<&House::floor>(), required, "the slab under any other storey"},
      {"roof", made_of<&House::roof>(), required, "the slab over rooms without a storey above"},
      {"source", text<&House::source>(), required, "where the choice comes from"}};
  return rows;
}

}  // namespace linkmargin::schema
