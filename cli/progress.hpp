// Progress of long work: on standard error, when that is a terminal, and only then.
#pragma once

#include <string>

namespace twoturn::cli {

class Progress {
 public:
  Progress();
  ~Progress();  ///< wipes its line
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

  /// Says what is being done now.
  void at(const std::string& what);

 private:
  bool shown_;
};

}  // namespace twoturn::cli
