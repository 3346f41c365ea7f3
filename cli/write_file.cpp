#include "write_file.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>

namespace twoturn::cli {
namespace {

[[noreturn]] void fail(const std::string& path, const std::string& why) {
  throw OutputError(path + ": " + why);
}

std::string reason() { return std::strerror(errno); }

// Beside the file to be, and short: whatever name a file may have, it must not grow.
std::string name_beside(const std::string& path) {
  return (std::filesystem::path(path).parent_path() / "twoturn-XXXXXX").string();
}

// A file of a name of its own that goes away again unless it is kept.
class NewFile {
 public:
  explicit NewFile(const std::string& path) : path_(path), name_(name_beside(path)) {
    descriptor_ = mkstemp(name_.data());
    if (descriptor_ < 0) fail(path_, "cannot be written: " + reason());
  }
  ~NewFile() {
    if (descriptor_ >= 0) close(descriptor_);
    unlink(name_.c_str());  // harmless where it has its last name by now
  }
  NewFile(const NewFile&) = delete;
  NewFile& operator=(const NewFile&) = delete;

  void write_all(const std::string& text) {
    std::size_t done = 0;
    while (done < text.size()) {
      const ssize_t wrote = write(descriptor_, text.data() + done, text.size() - done);
      if (wrote < 0 && errno == EINTR) continue;
      if (wrote <= 0) fail(path_, "cannot be written: " + reason());
      done += static_cast<std::size_t>(wrote);
    }
    const mode_t mask = umask(0);
    umask(mask);
    constexpr mode_t kReadWriteForAll = 0666;
    const bool whole =
        fchmod(descriptor_, kReadWriteForAll & ~mask) == 0 && fsync(descriptor_) == 0;
    if (!whole) fail(path_, "cannot be written: " + reason());
  }

  /// Gives the file its last name. A link fails where that name is taken, whoever took it.
  void give_name(Existing existing) {
    const bool named = existing == Existing::replaced ? rename(name_.c_str(), path_.c_str()) == 0
                                                      : link(name_.c_str(), path_.c_str()) == 0;
    if (named) return;
    if (errno == EEXIST) fail(path_, "is there already; --force writes over it");
    // A file system without links.
    if (existing == Existing::kept && rename(name_.c_str(), path_.c_str()) == 0) return;
    fail(path_, "cannot be written: " + reason());
  }

 private:
  std::string path_;
  std::string name_;
  int descriptor_ = -1;
};

}  // namespace

void write_file(const std::string& path, const std::string& text, Existing existing) {
  std::error_code ignored;
  const std::filesystem::file_status status = std::filesystem::status(path, ignored);
  if (std::filesystem::exists(status)) {
    if (!std::filesystem::is_regular_file(status)) {
      fail(path, std::filesystem::is_directory(status) ? "is a directory; name a file in it"
                                                       : "is no ordinary file");
    }
    if (existing == Existing::kept) fail(path, "is there already; --force writes over it");
  }
  // Through a link to the file itself, so that the link stays.
  const std::filesystem::path target = std::filesystem::exists(status)
                                           ? std::filesystem::canonical(path, ignored)
                                           : std::filesystem::path(path);
  NewFile file(target.string());
  file.write_all(text);
  file.give_name(existing);
}

}  // namespace twoturn::cli
