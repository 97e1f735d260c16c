// One link: what a device reads, and what its signal loses on the way.

#include <cstdio>
#include <linkmargin/linkmargin.hpp>

using namespace linkmargin;

int main() {
  const Result<Site> site = parse_site(starter_text(), "starter.yaml", embedded_tables());
  if (!site) {  // every fault of the file, each with line and column
    for (const Diagnostic& fault : site.error()) std::printf("%s\n", to_text(fault).c_str());
    return 1;
  }
  const LinkTable table = link_table(*site);
  const Link& link = table.links.front();
  std::printf("%s to %s: about %.0f %%, nine of ten readings between %.0f and %.0f %%, chance %.2f\n",
              link.device.c_str(), link.heard_by().c_str(), link.weaker().reading_percent, link.low_percent,
              link.high_percent, link.pass_probability);
  for (const LossItem& item : link.loss.items) {
    const std::string what = is_of_distance(item.cause) ? "distance"
                             : item.material.empty()    ? "reflections and edges"
                                                        : item.material;
    std::printf("%7.2f dB, give or take %.1f: %s\n", item.loss_db, item.sigma_db, what.c_str());
  }
  std::printf("%7.2f dB, give or take %.1f: in all\n", link.loss.path_loss_db, link.loss.sigma_db);
}
