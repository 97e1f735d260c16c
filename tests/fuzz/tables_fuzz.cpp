// Files of materials, of profiles and of a language.
#include "linkmargin/linkmargin.hpp"

#include <cstddef>
#include <cstdint>
#include <string_view>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace linkmargin;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  parse_materials(text, "fuzz.yaml", embedded_tables().materials);
  parse_profiles(text, "fuzz.yaml", embedded_tables().profiles);
  parse_language(text, "fuzz.yaml");
  return 0;
}
