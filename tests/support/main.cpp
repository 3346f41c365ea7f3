// The main of every test program, stricter than Catch2's own: a run that matches no test, or a test
// that asserts nothing, has failed. A file's name is a tag of its tests, as in "[#angle_test]".
#define CATCH_CONFIG_RUNNER
#include "support/catch.hpp"

int main(int argc, char** argv) {
  Catch::Session tests;
  if (const int wrong_usage = tests.applyCommandLine(argc, argv); wrong_usage != 0) {
    return wrong_usage;
  }
  Catch::ConfigData& config = tests.configData();
  config.filenamesAsTags = true;
  int warnings = config.warnings;
#ifndef TWOTURN_BENCHMARKS
  warnings |= Catch::WarnAbout::NoAssertions;
#endif
#if CATCH_VERSION_MAJOR == 2  // version 3 always fails without a test
  warnings |= Catch::WarnAbout::NoTests;
#endif
  config.warnings = static_cast<Catch::WarnAbout::What>(warnings);
  return tests.run();
}
