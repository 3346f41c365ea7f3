#include "progress.hpp"

#include <unistd.h>

#include <cstdio>

namespace twoturn::cli {

Progress::Progress() : shown_(isatty(STDERR_FILENO) == 1) {}

Progress::~Progress() {
  if (shown_) std::fputs("\r\033[K", stderr);
}

void Progress::at(const std::string& what) {
  if (!shown_) return;
  std::fprintf(stderr, "\r\033[Ktwoturn: %s ...", what.c_str());
  std::fflush(stderr);
}

}  // namespace twoturn::cli
