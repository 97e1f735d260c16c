// Prints sites of the generator: linkmargin_random_site SEED, or FIRST LAST FOLDER for a file each.
#include "properties/random_site.hpp"

#include <cstdlib>
#include <fstream>
#include <iostream>
#include <string>

int main(int count, char** values) {
  if (count == 2) {
    std::cout << properties::random_site_text(std::strtoull(values[1], nullptr, 10));
    return 0;
  }
  if (count != 4) {
    std::cerr << "usage: linkmargin_random_site SEED\n       linkmargin_random_site FIRST LAST FOLDER\n";
    return 2;
  }
  const auto last = std::strtoull(values[2], nullptr, 10);
  for (auto seed = std::strtoull(values[1], nullptr, 10); seed <= last; ++seed) {
    std::ofstream file(std::string(values[3]) + "/site-" + std::to_string(seed) + ".yaml", std::ios::binary);
    file << properties::random_site_text(seed);
    if (!file.flush()) return 1;
  }
  return 0;
}
