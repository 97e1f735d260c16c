#define DOCTEST_CONFIG_IMPLEMENT
#include <doctest/doctest.h>

#include <iostream>

namespace {

int cases_run = 0;

/// Counts the cases, so that a filter that finds none is a failure.
struct CaseCount : doctest::IReporter {
  explicit CaseCount(const doctest::ContextOptions&) {}
  void test_case_start(const doctest::TestCaseData&) override { ++cases_run; }
  void report_query(const doctest::QueryData&) override {}
  void test_run_start() override {}
  void test_run_end(const doctest::TestRunStats&) override {}
  void test_case_reenter(const doctest::TestCaseData&) override {}
  void test_case_end(const doctest::CurrentTestCaseStats&) override {}
  void test_case_exception(const doctest::TestCaseException&) override {}
  void subcase_start(const doctest::SubcaseSignature&) override {}
  void subcase_end() override {}
  void log_assert(const doctest::AssertData&) override {}
  void log_message(const doctest::MessageData&) override {}
  void test_case_skipped(const doctest::TestCaseData&) override {}
};

REGISTER_LISTENER("case count", 1, CaseCount);

}  // namespace

int main(int count, char** values) {
  doctest::Context context(count, values);
  const int status = context.run();
  if (context.shouldExit() || cases_run > 0) return status;
  std::cerr << "no test case matches\n";
  return 1;
}
