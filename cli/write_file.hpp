// Files that commands write: whole or not at all.
#pragma once

#include <stdexcept>
#include <string>

namespace twoturn::cli {

/// Output that could not be written: exit 4.
class OutputError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Kept for good is what no option writes over.
enum class Existing { kept, replaced, kept_for_good };

/// Writes `text` to a new file beside `path` and then gives it that name, so that `path` holds all
/// of it or what it held before. Throws OutputError, also where there is a file already and it is
/// to be kept, or where `path` is no ordinary file.
void write_file(const std::string& path, const std::string& text, Existing existing);

}  // namespace twoturn::cli
