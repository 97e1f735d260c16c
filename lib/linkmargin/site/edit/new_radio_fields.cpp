#include "linkmargin/site/edit/edit_value.hpp"
#include "linkmargin/site/schema/placed_fields.hpp"

#include <array>

/// The keys of what an edit adds: those of a device, hub or repeater that a new one needs, and some that it
/// may have.
namespace linkmargin::schema {
namespace {

template <auto... Before>
std::array<Field<Holder<Before..., &NewRadio::at>>, 4> placed_fields() {
  return {{profile_field<Before..., &NewRadio::profile>(), storey_field(name<Before..., &NewRadio::storey>()),
           at_field<Before..., &NewRadio::at>(), radio_height_field<Before..., &NewRadio::height_m>()}};
}

}  // namespace

template <>
std::span<const Field<NewRadio>> fields() {
  static const auto placed = placed_fields<>();
  static const Field<NewRadio> rows[] = {placed[0], placed[1], placed[2], placed[3],
                                         capacity_field<&NewRadio::capacity>()};
  return rows;
}

template <>
std::span<const Field<NewDevice>> fields() {
  static const auto placed = placed_fields<&NewDevice::radio>();
  static const Field<NewDevice> rows[] = {placed[0],
                                          placed[1],
                                          placed[2],
                                          placed[3],
                                          slots_field<&NewDevice::slots>(),
                                          hub_field<&NewDevice::hub>(),
                                          mount_loss_field<&NewDevice::mount_loss_db>()};
  return rows;
}

}  // namespace linkmargin::schema
