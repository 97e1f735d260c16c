// A site file, and where it is sound and small: what check, explain and draw ask of it.
#include "linkmargin/linkmargin.hpp"

#include <cstddef>
#include <cstdint>
#include <string_view>

namespace {

constexpr std::size_t kMostRadios = 8;
constexpr std::size_t kMostRooms = 24;

bool is_small(const linkmargin::Site& site) {
  std::size_t rooms = 0, obstacles = 0, openings = 0;
  for (const linkmargin::Storey& storey : site.storeys) {
    rooms += storey.rooms.size() + storey.walls.size();
    obstacles += storey.obstacles.size();
    openings += storey.openings.size();
  }
  return rooms <= kMostRooms && obstacles <= kMostRooms && openings <= kMostRooms && site.areas.empty() &&
         site.devices.size() + site.hubs.size() + site.repeaters.size() <= kMostRadios;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace linkmargin;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto site = parse_site(text, "fuzz.yaml", embedded_tables());
  if (!site || !is_small(*site)) return 0;
  const LinkTable table = link_table(*site);
  check_document(built_in_language("de"), table);
  floor_plan_svg(built_in_language("en"), *site);
  return 0;
}
