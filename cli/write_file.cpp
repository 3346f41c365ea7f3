#include "write_file.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <csignal>
#include <cstdio>
#include <cstring>
#include <filesystem>

namespace twoturn::cli {
namespace {

constexpr mode_t kReadWriteForAll = 0666;

std::string there_already(Existing existing) {
  return existing == Existing::kept_for_good
             ? "is there already, and a record is never written over; name another file"
             : "is there already; --force writes over it";
}

[[noreturn]] void fail(const std::string& path, const std::string& why) {
  throw OutputError(path + ": " + why);
}

std::string reason() { return std::strerror(errno); }

// Beside the file to be, and short: whatever name a file may have, it must not grow.
std::string name_beside(const std::string& path) {
  return (std::filesystem::path(path).parent_path() / "twoturn-XXXXXX").string();
}

// The name that a file has while it is not whole; a signal that ends the program takes it away.
const char* volatile unfinished = nullptr;
extern "C" void drop_unfinished(int number) {
  if (unfinished != nullptr) unlink(unfinished);
  std::signal(number, SIG_DFL);
  std::raise(number);
}

// A file of a name of its own that goes away again unless it is kept.
class NewFile {
 public:
  explicit NewFile(const std::string& path) : path_(path), name_(name_beside(path)) {
    descriptor_ = mkstemp(name_.data());
    if (descriptor_ < 0) fail(path_, "cannot be written: " + reason());
    unfinished = name_.c_str();
    for (std::size_t k = 0; k < kEnding.size(); ++k) {
      before_[k] = std::signal(kEnding[k], drop_unfinished);
      if (before_[k] == SIG_IGN) std::signal(kEnding[k], SIG_IGN);
    }
  }
  ~NewFile() {
    if (descriptor_ >= 0) close(descriptor_);
    unlink(name_.c_str());  // harmless where it has its last name by now
    unfinished = nullptr;
    for (std::size_t k = 0; k < kEnding.size(); ++k) std::signal(kEnding[k], before_[k]);
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
    const bool whole =
        fchmod(descriptor_, kReadWriteForAll & ~mask) == 0 && fsync(descriptor_) == 0;
    if (!whole) fail(path_, "cannot be written: " + reason());
  }

  /// Gives the file its last name. A link fails where that name is taken, whoever took it.
  void give_name(Existing existing) {
    const bool named = existing == Existing::replaced ? rename(name_.c_str(), path_.c_str()) == 0
                                                      : link(name_.c_str(), path_.c_str()) == 0;
    if (named) return;
    if (errno == EEXIST) fail(path_, there_already(existing));
    if (existing != Existing::replaced && take_name(existing)) return;
    fail(path_, "cannot be written: " + reason());
  }

 private:
  // Where a file system has no links: an empty file of the last name, made only where there is
  // none, keeps the place for this one.
  bool take_name(Existing existing) {
    const int place =
        open(path_.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, kReadWriteForAll);
    if (place < 0 && errno == EEXIST) fail(path_, there_already(existing));
    if (place < 0) return false;
    close(place);
    if (rename(name_.c_str(), path_.c_str()) == 0) return true;
    const int why = errno;
    unlink(path_.c_str());
    errno = why;
    return false;
  }

  static constexpr std::array<int, 4> kEnding{SIGHUP, SIGINT, SIGTERM, SIGXFSZ};

  std::string path_;
  std::string name_;
  int descriptor_ = -1;
  std::array<void (*)(int), kEnding.size()> before_{};
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
    if (existing != Existing::replaced) fail(path, there_already(existing));
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
