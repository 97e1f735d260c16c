// A what-if loop: the hub at three places, each a site of its own. What two of them share is found once.

#include <algorithm>
#include <cstdio>
#include <linkmargin/linkmargin.hpp>

using namespace linkmargin;

int main() {
  const Result<Site> site = parse_site(starter_text(), "starter.yaml", embedded_tables());
  if (!site) return 1;
  SceneCacheSet scenes;
  for (const Point2 at : {Point2{0.3, 3.7}, Point2{4.7, 3.7}, Point2{7.3, 3.7}}) {
    const Edit edit{"/hubs/hub/at_m", at};
    const Result<Site> changed = edited_site(*site, {&edit, 1});
    if (!changed) {  // a path that leads nowhere, a value out of range
      for (const Diagnostic& fault : changed.error()) std::printf("%s\n", to_text(fault).c_str());
      return 1;
    }
    const LinkTable table = link_table(*changed, {.detail = TableDetail::chances}, scenes);
    const Link& worst = *std::ranges::min_element(
        table.links, {}, [](const Link& link) { return link.weaker().reading_percent; });
    std::printf("hub at (%.1f, %.1f): %s reads lowest, about %.0f %%, chance %.2f\n", at.x, at.y,
                worst.device.c_str(), worst.weaker().reading_percent, worst.pass_probability);
  }
}
