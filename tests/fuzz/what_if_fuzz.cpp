// What-if files and cases of the demo site.
#include "linkmargin/linkmargin.hpp"

#include <cstddef>
#include <cstdint>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>
#include <vector>

namespace {

const std::vector<linkmargin::NamedSite>& demo() {
  static const std::vector<linkmargin::NamedSite> sites = [] {
    std::ifstream in(LINKMARGIN_DATA "/sites/kiln-lane.yaml");
    const std::string text{std::istreambuf_iterator<char>(in), {}};
    return std::vector<linkmargin::NamedSite>{
        {"kiln-lane.yaml",
         linkmargin::parse_site(text, "kiln-lane.yaml", linkmargin::embedded_tables()).value()}};
  }();
  return sites;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  linkmargin::parse_what_if_sites(text, "fuzz.yaml");
  linkmargin::parse_what_if(text, "fuzz.yaml", demo());
  linkmargin::parse_cases(text, "fuzz.yaml", demo().front().site);
  return 0;
}
