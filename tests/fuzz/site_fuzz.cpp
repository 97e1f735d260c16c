// A site file, and where it is sound and small: what check, explain and draw ask of it.
#include "linkmargin/linkmargin.hpp"

#include "small_site.hpp"

#include <cstddef>
#include <cstdint>
#include <string_view>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace linkmargin;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto site = parse_site(text, "fuzz.yaml", embedded_tables());
  if (!site || !site->areas.empty() || !is_small(*site, 24, 8)) return 0;
  const LinkTable table = link_table(*site);
  check_document(built_in_language("de"), table);
  floor_plan_svg(built_in_language("en"), *site);
  return 0;
}
