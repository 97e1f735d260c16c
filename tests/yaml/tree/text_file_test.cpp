#include "linkmargin/yaml/tree/text_file.hpp"

#include "fixtures/fault_lines.hpp"

#include <doctest/doctest.h>

#include <fstream>

using namespace linkmargin;
namespace fs = std::filesystem;

namespace {

/// A folder that goes when the test ends.
class Folder {
 public:
  Folder() : path_(fs::temp_directory_path() / ("linkmargin_text_file_test_" + std::to_string(counter++))) {
    fs::remove_all(path_);
    fs::create_directories(path_);
  }
  ~Folder() { fs::remove_all(path_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  fs::path operator/(const std::string& name) const { return path_ / name; }

 private:
  static inline int counter = 0;
  fs::path path_;
};

void write(const fs::path& path, const std::string& text) {
  std::ofstream(path, std::ios::binary).write(text.data(), static_cast<std::streamsize>(text.size()));
}

}  // namespace

TEST_CASE("a file is read byte for byte") {
  const Folder folder;
  const std::string bytes("a\r\n\0b\xFF", 6);
  write(folder / "x", bytes);
  CHECK(*read_text_file(folder / "x") == bytes);
  write(folder / "empty", "");
  CHECK(*read_text_file(folder / "empty") == "");
}

TEST_CASE("a file is read no further than one byte beyond the limit") {
  const Folder folder;
  write(folder / "at", std::string(kMaxFileBytes, 'x'));
  write(folder / "over", std::string(6 * kMaxFileBytes + 7, 'x'));
  CHECK(read_text_file(folder / "at")->size() == kMaxFileBytes);
  CHECK(read_text_file(folder / "over")->size() == kMaxFileBytes + 1);
}

TEST_CASE("what cannot be read says why") {
  const Folder folder;
  const std::string missing = (folder / "nowhere.yaml").string();
  CHECK(fault_lines(read_text_file(missing)) == missing + ": no such file\n");
  CHECK(read_text_file(missing).error().front().code == DiagnosticCode::unreadable_file);
  write(folder / "pottery.yaml", "site: x\n");
  const std::string near = (folder / "potery.yaml").string();
  CHECK(fault_lines(read_text_file(near)) ==
        near + ": no such file (did you mean '" + (folder / "pottery.yaml").string() + "'?)\n");
  write(folder / "a.yaml", "site: x\n");
  for (const char* far : {"b.yaml", "ab.yaml", "potpourri.yaml", "a.txt.yaml"}) {
    const std::string wild = (folder / far).string();
    CHECK(fault_lines(read_text_file(wild)) == wild + ": no such file\n");
  }
  const std::string short_end = (folder / "pottery.yml").string();
  CHECK(fault_lines(read_text_file(short_end)) ==
        short_end + ": no such file (did you mean '" + (folder / "pottery.yaml").string() + "'?)\n");
  const std::string directory = (folder / "").string();
  CHECK(fault_lines(read_text_file(directory)) == directory + ": this is a directory, not a file\n");
  const std::string through_file = (folder / "pottery.yaml" / "x").string();
  CHECK(fault_lines(read_text_file(through_file)) == through_file + ": no such file\n");
}

TEST_CASE("a file without permission, or one that fails while it is read, is a fault") {
  const Folder folder;
  write(folder / "secret.yaml", "site: x\n");
  fs::permissions(folder / "secret.yaml", fs::perms::none);
  const bool root = std::ifstream(folder / "secret.yaml").good();  // permissions do not bind root
  const std::string secret = (folder / "secret.yaml").string();
  const std::string denied = secret + ": the file may not be read (permission denied)\n";
  CHECK(fault_lines(read_text_file(secret)) == (root ? "" : denied));
#ifdef __linux__
  // Opens for anyone, and fails at the first byte: nothing is mapped at address 0.
  CHECK(fault_lines(read_text_file("/proc/self/mem")) ==
        "/proc/self/mem: the file could not be read: Input/output error\n");
#endif
}
