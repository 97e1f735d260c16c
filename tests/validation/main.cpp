#include "ask.hpp"
#include "document.hpp"
#include "figures.hpp"

#include <exception>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <stdexcept>
#include <string>
#include <vector>

using namespace linkmargin::validation;

namespace {

constexpr const char* kUsage =
    "usage: linkmargin_validation                print the pages of docs/validation\n"
    "       linkmargin_validation --check DOCS   compare them and their figures with what is there\n"
    "       linkmargin_validation --write DOCS   write both\n"
    "       linkmargin_validation --ask          answer questions from standard input (ask.hpp)\n"
    "LINKMARGIN_DATASETS names the folder of open measurements; without it their pages are left as they "
    "are.\n";

std::string content_of(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  if (!file) return {};
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

void write(const std::filesystem::path& path, const std::string& content) {
  std::ofstream file(path, std::ios::binary);
  file << content;
  if (!file.flush()) throw std::runtime_error("cannot write " + path.string());
}

/// The first line at which two texts part.
std::size_t first_difference(const std::string& one, const std::string& other) {
  std::size_t line = 1;
  for (std::size_t i = 0; i < one.size() && i < other.size() && one[i] == other[i]; ++i) {
    if (one[i] == '\n') ++line;
  }
  return line;
}

bool same(const std::filesystem::path& path, const std::string& made) {
  const std::string committed = content_of(path);
  if (committed == made) return true;
  std::cout << path.string() << " is not what the program prints, from line "
            << first_difference(committed, made) << "; write it anew with --write\n";
  return false;
}

int run(const std::vector<std::string>& arguments) {
  if (arguments.empty()) {
    for (const Page& page : document().pages) std::cout << page.text << "\n";
    return 0;
  }
  if (arguments.size() == 1 && arguments[0] == "--ask") {
    answer(std::cin, std::cout);
    return 0;
  }
  const bool writes = arguments[0] == "--write";
  if (arguments.size() != 2 || (!writes && arguments[0] != "--check")) {
    std::cerr << kUsage;
    return 2;
  }
  const std::filesystem::path docs = arguments[1];
  const Document made = document();
  if (!made.with_data_sets) std::cout << "skipped: open measurements (LINKMARGIN_DATASETS names no folder)\n";
  std::vector<Page> files = made.pages;
  for (const Figure& figure : figures()) files.push_back({"figures/" + figure.file_name, figure.svg});
  bool all = true;
  for (const Page& file : files) {
    if (writes) {
      std::filesystem::create_directories((docs / file.file_name).parent_path());
      write(docs / file.file_name, file.text);
    } else {
      all = same(docs / file.file_name, file.text) && all;
    }
  }
  if (!writes && !made.kept) {
    std::cout << "a limit is not kept\n";
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
