#include "linkmargin/site/edit/move_edits.hpp"

#include "linkmargin/site/validation/checks.hpp"

namespace linkmargin {

std::vector<Edit> move_edits(const Site& site, const SiteRadio& radio, const Placement& to) {
  std::vector<Edit> edits;
  const auto set = [&](std::string_view key, EditValue value) {
    edits.push_back({checks::pointer({radio.map, radio.name, key}), std::move(value)});
  };
  const Placement& from = radio.place;
  if (to.storey != from.storey) set("storey", site.storeys[to.storey].name);
  if (to.at != from.at) set("at_m", to.at);
  if (to.height_m != from.height_m) set("height_m", to.height_m);
  if (radio.mount && radio.map != "devices" && leaves_mount(from, to)) set("mount", Removal{});
  return edits;
}

}  // namespace linkmargin
