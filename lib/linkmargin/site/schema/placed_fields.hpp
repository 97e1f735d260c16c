#pragma once

#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/schema/member.hpp"

/// What all radios share. Not installed.
namespace linkmargin::schema {

template <auto... Path>
Field<Holder<Path...>> profile_field() {
  return {"profile", name<Path...>(), Presence::required, "a kind of radio, of the tables or of this file"};
}

/// @param kind  how the noun holds its storey: by position, or by name
template <template <typename> class KindOf, typename Noun>
Field<Noun> storey_field(KindOf<Noun> kind) {
  return {"storey", kind, Presence::required, "its storey, by name"};
}

template <auto... Path>
Field<Holder<Path...>> at_field() {
  return {"at_m", point<Path...>(), Presence::required, "`[x, y]`; may lie outside the rooms"};
}

template <auto... Path>
Field<Holder<Path...>> radio_height_field() {
  return {"height_m", number<Path...>(limits::kRadioHeightM), Presence::required,
          "above the floor of the storey"};
}

/// A field of a radio that `in` or `on` may stand for.
template <typename Noun>
Field<Noun> or_short(Field<Noun> field, std::string_view absent) {
  field.presence = Presence::optional;
  field.absent = absent;
  return field;
}

/// Where it hangs in a room, or at which opening.
template <typename Noun>
Field<Noun> in_field() {
  return {"in", Part{"room"}, Presence::optional, "the room that it hangs in; `at` says where", "none"};
}
template <typename Noun>
Field<Noun> on_field() {
  return {"on", Part{"opening"}, Presence::optional,
          "the opening at whose frame it hangs; `in` says in which of its two rooms", "none"};
}
template <typename Noun>
Field<Noun> spot_field() {
  return {"at", Part{"spot"}, Presence::optional,
          "with `in`: `centre`, `corner top left`, `bottom wall, 1.2 m from left`, or `[x, y]` from the "
          "room's lower "
          "left corner; with `on`: the side of the opening, or `over` it",
          "of a ceiling device the centre; at an opening the lock side"};
}

template <auto... Path>
Field<Holder<Path...>> capacity_field() {
  return {"capacity", Part{"capacity", &limits::kCapacity}, Presence::optional,
          "a number of slots, or slots by class, such as `{fobs: 8, others: 32}`", "no limit"};
}

template <auto... Path>
Field<Holder<Path...>> hub_field() {
  return {"hub", name<Path...>(), Presence::optional, "the hub that it is enrolled with", "the best"};
}

template <auto... Path>
Field<Holder<Path...>> via_field() {
  return {"via", name<Path...>(), Presence::optional,
          "the repeater that it is enrolled at, or `direct`: by none", "the best way"};
}

template <auto... Path>
Field<Holder<Path...>> slots_field() {
  return {"slots", number<Path...>(limits::kSlots), Presence::optional, "slots of its hub that it takes"};
}

template <auto... Path>
Field<Holder<Path...>> mount_loss_field() {
  return {"mount_loss_db", number<Path...>(limits::kBodyLossDb), Presence::optional,
          "loss of its mounting place, both directions, instead of the profile's", "the profile's"};
}

}  // namespace linkmargin::schema
