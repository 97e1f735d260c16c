#include "linkmargin/base/in_order.hpp"

#include <doctest/doctest.h>

#include <atomic>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

using namespace linkmargin;

TEST_CASE("parts are taken in order, each once, whatever the threads") {
  for (const int threads : {1, 2, 5, 16}) {
    for (const std::size_t parts : {0U, 1U, 7U, 500U}) {
      std::vector<std::string> taken;
      in_order(
          parts, threads,
          [](std::size_t part, std::size_t) {
            if (part % 7 == 0) std::this_thread::yield();
            return std::to_string(part);
          },
          [&](std::size_t part, std::string made) {
            CHECK(made == std::to_string(part));
            taken.push_back(made);
            return true;
          });
      REQUIRE(taken.size() == parts);
      for (std::size_t i = 0; i < parts; ++i) CHECK(taken[i] == std::to_string(i));
    }
  }
}

TEST_CASE("a worker's number is below the threads, and no two threads have one") {
  std::vector<std::atomic<int>> inside(3);
  std::atomic<bool> shared{false};
  in_order(
      300, 3,
      [&](std::size_t, std::size_t worker) {
        if (inside.at(worker)++ > 0) shared = true;
        std::this_thread::yield();
        --inside.at(worker);
        return 0;
      },
      [](std::size_t, int) { return true; });
  CHECK_FALSE(shared);
}

TEST_CASE("who has enough gets no more, and few parts are begun beyond") {
  for (const int threads : {1, 4}) {
    std::atomic<std::size_t> begun{0};
    std::size_t taken = 0;
    in_order(
        100'000, threads, [&](std::size_t, std::size_t) { return ++begun; },
        [&](std::size_t, std::size_t) { return ++taken < 10; });
    CHECK(taken == 10);
    CHECK(begun <= 10 + 8 * 4 + 4);
  }
}

TEST_CASE("an exception of either side comes out") {
  for (const int threads : {1, 3}) {
    std::size_t taken = 0;
    const auto make = [](std::size_t part, std::size_t) {
      if (part == 20) throw std::runtime_error("made");
      return part;
    };
    CHECK_THROWS_WITH(in_order(100, threads, make,
                               [&](std::size_t, std::size_t) {
                                 ++taken;
                                 return true;
                               }),
                      "made");
    CHECK(taken <= 20);
    CHECK_THROWS_WITH(in_order(
                          100, threads, [](std::size_t part, std::size_t) { return part; },
                          [](std::size_t part, std::size_t) -> bool {
                            if (part == 5) throw std::runtime_error("taken");
                            return true;
                          }),
                      "taken");
  }
}
