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
    "usage: linkmargin_validation                        print docs/validation.md\n"
    "       linkmargin_validation --check FILE DIRECTORY compare it and the figures with what is there\n"
    "       linkmargin_validation --write FILE DIRECTORY write both\n"
    "       linkmargin_validation --ask                  answer questions from standard input (ask.hpp)\n"
    "LINKMARGIN_DATASETS names the folder of open measurements; without it their part is left as it is.\n";

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

/// The document as it belongs beside a committed one.
std::string beside(const Document& made, const std::string& committed) {
  if (made.with_data_sets) return made.text;
  std::cout << "skipped: open measurements (LINKMARGIN_DATASETS names no folder)\n";
  return with_data_set_part_of(made.text, committed);
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
    std::cout << document().text;
    return 0;
  }
  if (arguments.size() == 1 && arguments[0] == "--ask") {
    answer(std::cin, std::cout);
    return 0;
  }
  if (arguments.size() != 3) {
    std::cerr << kUsage;
    return 2;
  }
  const std::filesystem::path file = arguments[1];
  const std::filesystem::path directory = arguments[2];
  const Document made = document();
  const std::string text = beside(made, content_of(file));
  if (arguments[0] == "--write") {
    std::filesystem::create_directories(directory);
    write(file, text);
    for (const Figure& figure : figures()) write(directory / figure.file_name, figure.svg);
    return 0;
  }
  if (arguments[0] == "--check") {
    bool all = same(file, text);
    if (!made.kept) {
      std::cout << "a limit is not kept\n";
      all = false;
    }
    for (const Figure& figure : figures()) all = same(directory / figure.file_name, figure.svg) && all;
    return all ? 0 : 1;
  }
  std::cerr << kUsage;
  return 2;
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
