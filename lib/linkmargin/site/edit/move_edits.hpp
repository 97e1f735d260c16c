#pragma once

#include "linkmargin/site/edit/edit_value.hpp"
#include "linkmargin/site/site_radios.hpp"

namespace linkmargin {

/// The edits that put a radio of a site to another place: what of it changes. The mount of a hub or repeater
/// on metal is taken away, as put_station() has it.
std::vector<Edit> move_edits(const Site& site, const SiteRadio& radio, const Placement& to);

}  // namespace linkmargin
