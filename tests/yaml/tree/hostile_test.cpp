#include "linkmargin/yaml/site/site_yaml.hpp"

#include "fixtures/fault_lines.hpp"
#include "fixtures/hostile_files.hpp"

#include <doctest/doctest.h>

#include <cstdlib>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

using namespace linkmargin;

namespace {

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
constexpr bool kSanitized = true;  // memory and time are then the sanitizer's
#else
constexpr bool kSanitized = false;
#endif

constexpr double kMostMib = 100;
constexpr double kMostSeconds = 3;  // far over the second that it takes at most: no test of speed

struct Cost {
  double peak_mib = 0;  // of the whole process, the text of the file in it
  double processor_s = 0;
  bool told = false;  // a site, or faults as many as are listed
};

/// What it costs a process of its own to read a file.
Cost cost_of(const std::function<std::string()>& make) {
  const pid_t child = fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    const auto result = parse_site(make(), "f", embedded_tables());
    std::_Exit(result || result.error().size() <= kMostFaults + 1 ? 0 : 1);
  }
  int status = 0;
  rusage used{};
  REQUIRE(wait4(child, &status, 0, &used) == child);
  const auto seconds = [](const timeval& time) {
    return static_cast<double>(time.tv_sec) + static_cast<double>(time.tv_usec) / 1e6;
  };
  return {static_cast<double>(used.ru_maxrss) / 1024, seconds(used.ru_utime) + seconds(used.ru_stime),
          WIFEXITED(status) && WEXITSTATUS(status) == 0};
}

void check_costs(const std::vector<hostile::File>& files) {
  (void)embedded_tables();
  Cost most;
  for (const auto& [name, make] : files) {
    const auto& name_shown = name;
    CAPTURE(name_shown);
    const Cost cost = cost_of(make);
    CHECK(cost.told);
    if (std::getenv("LINKMARGIN_COSTS") != nullptr)
      MESSAGE(name << ": " << cost.peak_mib << " MiB, " << cost.processor_s << " s");
    most.peak_mib = std::max(most.peak_mib, cost.peak_mib);
    most.processor_s = std::max(most.processor_s, cost.processor_s);
    if (kSanitized) continue;
    CHECK(cost.peak_mib < kMostMib);
    CHECK(cost.processor_s < kMostSeconds);
  }
  MESSAGE(files.size() << " files: at most " << most.peak_mib << " MiB and " << most.processor_s << " s");
}

std::string faults_of(const std::string& text) {
  return fault_lines(parse_site(text, "f", embedded_tables()));
}

}  // namespace

TEST_CASE("no text costs its reader more than 100 MiB and a few seconds") {
  check_costs(hostile::texts());
}

TEST_CASE("no site costs its reader more than 100 MiB and a few seconds") {
  check_costs(hostile::sites());
}

TEST_CASE("after 200 faults one says how many more there are") {
  const auto unknown = [](std::size_t count) {
    return faults_of(hostile::site(hostile::kStorey, hostile::items(count, kMaxFileBytes, [](std::size_t i) {
                                     return hostile::device(i, "q");
                                   })));
  };
  const auto lines = [](const std::string& text) { return std::count(text.begin(), text.end(), '\n'); };
  CHECK(lines(unknown(200)) == 200);
  const std::string over = unknown(201);
  CHECK(lines(over) == 201);
  CHECK(over.ends_with("\nf: 1 more fault is not listed (put these right first)\n"));
  CHECK(unknown(20'000).ends_with("\nf: 19800 more faults are not listed (put these right first)\n"));
}

TEST_CASE("the faults that are listed are the first of the file, in whatever order they are found") {
  // The reader comes to the profiles before it comes to the devices.
  const std::string devices =
      hostile::items(3'000, kMaxFileBytes, [](std::size_t i) { return hostile::device(i, "hub", ", a: 1"); });
  const std::string profiles = hostile::items(
      3'000, kMaxFileBytes, [](std::size_t i) { return "  p" + hostile::number(i) + ": {a: 1}\n"; });
  const std::string text = hostile::site(hostile::kStorey, devices) + "profiles:\n" + profiles;
  const auto site = parse_site(text, "f", embedded_tables());
  REQUIRE(!site);
  REQUIRE(site.error().size() == kMostFaults + 1);
  CHECK(site.error().front().line == 8);
  CHECK(site.error()[kMostFaults - 1].line == 207);
}
