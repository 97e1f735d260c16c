// A program of somebody else: the installed package alone, no path into this source tree.
#include <iostream>
#include <linkmargin/linkmargin.hpp>

int main() {
  using namespace linkmargin;
  const Result<Site> site = parse_site(starter_text(), "starter.yaml", embedded_tables());
  if (!site) {
    for (const Diagnostic& fault : site.error()) std::cerr << to_text(fault) << '\n';
    return 1;
  }
  const LinkTable table = link_table(*site);
  std::cout << table.site << ": " << table.links.size() << " links, first loss "
            << table.links.front().loss.path_loss_db << " dB\n";
  return table.links.empty() ? 1 : 0;
}
