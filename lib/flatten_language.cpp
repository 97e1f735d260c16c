// flatten_language IN OUT [SECTION]...: writes the words of a file of data/languages as one line for each
// text, its key, a tab and the text, so that a program need not parse YAML to say anything. Levels of keys
// are joined by
// '.'. The sections of texts that are named are left out.

#include <yaml-cpp/yaml.h>

#include <exception>
#include <fstream>
#include <iostream>
#include <set>
#include <stdexcept>
#include <string>

namespace {

void write(const YAML::Node& node, const std::string& key, const std::set<std::string>& left_out,
           std::ostream& out) {
  for (const auto& entry : node) {
    const auto name = entry.first.as<std::string>();
    const std::string path = key.empty() ? name : key + "." + name;
    if (left_out.contains(path)) continue;
    if (entry.second.IsMap()) {
      write(entry.second, path, left_out, out);
      continue;
    }
    const auto text = entry.second.as<std::string>();
    if ((path + text).find_first_of("\t\n") != std::string::npos)
      throw std::runtime_error("the text of " + path + " has a tab or more than one line");
    out << path << '\t' << text << '\n';
  }
}

}  // namespace

int main(int argc, char** argv) try {
  if (argc < 3) throw std::runtime_error("flatten_language takes IN, OUT and sections");
  std::set<std::string> left_out;
  for (int i = 3; i < argc; ++i) left_out.insert(std::string("texts.") + argv[i]);
  std::ofstream out(argv[2], std::ios::binary);
  write(YAML::LoadFile(argv[1]), {}, left_out, out);
  out.flush();
  if (!out) throw std::runtime_error(std::string("cannot write ") + argv[2]);
  return 0;
} catch (const std::exception& fault) {
  std::cerr << fault.what() << '\n';
  return 1;
}
