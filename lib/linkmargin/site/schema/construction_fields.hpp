#pragma once

#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/schema/member.hpp"

#include <string_view>

/// What all nouns that are built of a material share. Not installed.
namespace linkmargin::schema {

template <auto... Path>
Field<Holder<Path..., &Construction::material>> material_field(std::string_view meaning) {
  return {"material", name<Path..., &Construction::material>(), Presence::required, meaning};
}

template <auto... Path>
Field<Holder<Path..., &Construction::thickness_m>> thickness_field() {
  return {"thickness_m", number<Path..., &Construction::thickness_m>(limits::kThicknessM), Presence::optional,
          "required with an electrical material, a note with any other", "none"};
}

}  // namespace linkmargin::schema
