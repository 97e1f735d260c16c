// Readings and lists of places of the demo site.
#include "linkmargin/linkmargin.hpp"

#include <cstddef>
#include <cstdint>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>

namespace {

const linkmargin::Site& demo() {
  static const linkmargin::Site site = [] {
    std::ifstream in(LINKMARGIN_DATA "/sites/kiln-lane.yaml");
    const std::string text{std::istreambuf_iterator<char>(in), {}};
    return linkmargin::parse_site(text, "kiln-lane.yaml", linkmargin::embedded_tables()).value();
  }();
  return site;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  linkmargin::parse_readings(text, "fuzz.csv", demo());
  linkmargin::parse_places(text, "fuzz.csv", demo());
  return 0;
}
