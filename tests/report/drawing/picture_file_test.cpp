#include "linkmargin/report/drawing/picture_file.hpp"

#include <doctest/doctest.h>

using namespace linkmargin;

namespace {

std::string png(const std::string& width, const std::string& height) {
  return std::string("\x89PNG\r\n\x1a\n") + std::string("\0\0\0\x0D", 4) + "IHDR" + width + height;
}

/// A comment, two fill bytes, then the start of a frame 3 high and 2 wide.
std::string jpeg() {
  return std::string(
      "\xFF\xD8\xFF\xFE\0\x04"
      "ab\xFF\xFF\xFF\xC2\0\x0B\x08\0\x03\0\x02\x01",
      21);
}

}  // namespace

TEST_CASE("Kind and size of a picture are read from its first parts") {
  const auto one = picture_file(png(std::string("\0\0\x01\x02", 4), std::string("\0\0\0\x05", 4)));
  REQUIRE(one);
  CHECK(one->media_type == "image/png");
  CHECK(one->width_px == 258);
  CHECK(one->height_px == 5);
  const auto other = picture_file(jpeg());
  REQUIRE(other);
  CHECK(other->media_type == "image/jpeg");
  CHECK(other->width_px == 2);
  CHECK(other->height_px == 3);
}

TEST_CASE("What is no picture, is cut off or has no size is none") {
  CHECK_FALSE(picture_file(""));
  CHECK_FALSE(picture_file("GIF89a"));
  CHECK_FALSE(picture_file(png(std::string(4, '\0'), std::string("\0\0\0\x05", 4))));
  CHECK_FALSE(picture_file(png(std::string(4, '\xFF'), std::string("\0\0\0\x05", 4))));
  for (std::size_t length = 0; length < jpeg().size() - 1; ++length)
    CHECK_FALSE(picture_file(jpeg().substr(0, length)));
  CHECK_FALSE(picture_file(std::string("\xFF\xD8\xFF\xFE\0\0", 6) + std::string(100, '\0')));
}

TEST_CASE("Base64 as RFC 4648, section 10, has it") {
  CHECK(base64("").empty());
  CHECK(base64("fooba") == "Zm9vYmE=");
  CHECK(data_address("a/b", "") == "data:a/b;base64,");
  CHECK(data_address("a/b", "f") == "data:a/b;base64,Zg==");
  CHECK(data_address("a/b", "fo") == "data:a/b;base64,Zm8=");
  CHECK(data_address("a/b", "foo") == "data:a/b;base64,Zm9v");
  CHECK(data_address("a/b", "foobar") == "data:a/b;base64,Zm9vYmFy");
  CHECK(data_address("a/b", "\xFF\xFE\xFD") == "data:a/b;base64,//79");
}
