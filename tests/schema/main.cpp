#include "json_schema.hpp"
#include "key_tables.hpp"

#include <exception>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

using namespace linkmargin::schema;

namespace {

constexpr const char* kUsage =
    "usage: linkmargin_schema --check DIRECTORY   compare the pages of the site file and the schemas with "
    "the "
    "tables of fields\n"
    "       linkmargin_schema --write DIRECTORY   write them anew\n";

std::string content_of(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  if (!file) throw std::runtime_error("cannot read " + path.string());
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

void write(const std::filesystem::path& path, const std::string& content) {
  std::ofstream file(path, std::ios::binary);
  file << content;
  if (!file.flush()) throw std::runtime_error("cannot write " + path.string());
}

/// The number of the first line at which two texts part.
std::size_t first_difference(const std::string& one, const std::string& other) {
  std::size_t line = 1;
  for (std::size_t i = 0; i < one.size() && i < other.size() && one[i] == other[i]; ++i) {
    if (one[i] == '\n') ++line;
  }
  return line;
}

int run(const std::vector<std::string>& arguments) {
  if (arguments.size() != 2 || (arguments[0] != "--check" && arguments[0] != "--write")) {
    std::cerr << kUsage;
    return 2;
  }
  const std::filesystem::path docs = arguments[1];
  std::vector<std::filesystem::path> pages{docs / "site-file.md"};
  for (const auto& page : std::filesystem::directory_iterator(docs / "site-file"))
    pages.push_back(page.path());
  std::vector<std::string> texts;
  for (const std::filesystem::path& page : pages) texts.push_back(content_of(page));
  texts = with_key_tables(texts);
  std::vector<std::pair<std::filesystem::path, std::string>> made{
      {docs / "site.schema.json", site_schema()}, {docs / "materials.schema.json", materials_schema()}};
  for (std::size_t i = 0; i < pages.size(); ++i) made.emplace_back(pages[i], texts[i]);
  bool all = true;
  for (const auto& [path, text] : made) {
    if (arguments[0] == "--write") {
      write(path, text);
      continue;
    }
    const std::string committed = content_of(path);
    if (committed == text) continue;
    std::cout << path.string() << " is not what the tables of fields say, from line "
              << first_difference(committed, text) << "; write it anew with --write\n";
    all = false;
  }
  return all ? 0 : 1;
}

}  // namespace

int main(int count, char** values) {
  try {
    return run({values + 1, values + count});
  } catch (const std::exception& fault) {
    std::cerr << fault.what() << "\n";
    return 1;
  }
}
