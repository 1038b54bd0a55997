// SPDX-License-Identifier: MIT
#include "core/base/atomic_file.h"

#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <fstream>
#include <sys/stat.h>
#include <unistd.h>

namespace touchmark {
namespace {

namespace fs = std::filesystem;

std::string reason() {
    return std::strerror(errno);
}

/// Removes the temporary file unless it has become the target.
class Temporary {
public:
    explicit Temporary(fs::path path) : path_(std::move(path)) {}
    Temporary(const Temporary&) = delete;
    Temporary& operator=(const Temporary&) = delete;
    ~Temporary() {
        if (!path_.empty()) ::unlink(path_.c_str());
    }
    [[nodiscard]] const fs::path& path() const { return path_; }
    void keep() { path_.clear(); }

private:
    fs::path path_;
};

bool flush_to_disk(const fs::path& path, int flags) {
    const int file = ::open(path.c_str(), flags | O_CLOEXEC);
    if (file < 0) return false;
    const bool done = ::fsync(file) == 0;
    ::close(file);
    return done;
}

} // namespace

Status write_atomically(const fs::path& target, const std::function<Status(const fs::path&)>& write,
                        const std::function<Status(const fs::path&)>& verify) {
    std::error_code error;
    fs::path real = target;
    if (fs::is_symlink(target, error)) {
        real = fs::canonical(target, error);
        if (error)
            return fail("file.not_writable", "Cannot write " + target.string() + ": its link leads nowhere.",
                        "Remove the link or save under another name.");
    }
    const fs::path folder = real.parent_path().empty() ? fs::path(".") : real.parent_path();
    if (fs::is_directory(real, error))
        return fail("file.not_writable", "Cannot write " + target.string() + ": it is a folder.", "Add a file name.");

    std::string pattern = (folder / ("." + real.filename().string() + ".XXXXXX" + real.extension().string())).string();
    const int file = ::mkstemps(pattern.data(), static_cast<int>(real.extension().string().size()));
    if (file < 0)
        return fail("file.not_writable", "Cannot write in " + folder.string() + ": " + reason() + ".",
                    "Choose a folder that exists and that you may write to.");
    struct stat old{};
    // mkstemps makes the file private; give it what the target has, or what a new file would get.
    const mode_t mask = ::umask(0);
    ::umask(mask);
    ::fchmod(file, ::stat(real.c_str(), &old) == 0 ? (old.st_mode & 07777) : (0666 & ~mask));
    ::close(file);
    Temporary temporary{pattern};

    if (Status written = write(temporary.path()); !written) return written;
    if (!flush_to_disk(temporary.path(), O_RDONLY))
        return fail("file.not_writable", "Cannot flush " + target.string() + " to disk: " + reason() + ".",
                    "Check that the disk is not full.");
    if (verify)
        if (Status verified = verify(temporary.path()); !verified) return verified;
    if (::rename(temporary.path().c_str(), real.c_str()) != 0)
        return fail("file.rename", "Cannot replace " + target.string() + ": " + reason() + ".",
                    "Close other programs that use the file, or save under another name.");
    temporary.keep();
    flush_to_disk(folder, O_RDONLY | O_DIRECTORY);
    return {};
}

Status write_text_atomically(const fs::path& target, std::string_view text) {
    const auto write = [&](const fs::path& path) -> Status {
        std::ofstream stream(path, std::ios::binary | std::ios::trunc);
        stream.write(text.data(), static_cast<std::streamsize>(text.size()));
        stream.close();
        if (!stream)
            return fail("file.not_writable", "Cannot write " + target.string() + ".",
                        "Check that the disk is not full.");
        return {};
    };
    const auto verify = [&](const fs::path& path) -> Status {
        const Result<std::string> back = read_text(path, text.size() + 1);
        if (!back || *back != text)
            return fail("file.not_writable", "What was written to " + target.string() + " reads back differently.",
                        "The disk may be failing; save elsewhere.");
        return {};
    };
    return write_atomically(target, write, verify);
}

Result<std::string> read_text(const fs::path& path, std::size_t largest) {
    std::error_code error;
    if (!fs::exists(path, error))
        return fail("file.not_found", "There is no file " + path.string() + ".", "Check the name and the folder.");
    if (!fs::is_regular_file(path, error))
        return fail("file.not_readable", path.string() + " is not a file.", "Name a file.");
    const auto size = fs::file_size(path, error);
    if (!error && size > largest)
        return fail("file.too_large", path.string() + " is larger than such a file can be.",
                    "Check that it is the right one.");
    std::ifstream stream(path, std::ios::binary);
    std::string text(std::istreambuf_iterator<char>(stream), {});
    if (!stream && !stream.eof())
        return fail("file.not_readable", "Cannot read " + path.string() + ".", "Check its permissions.");
    if (!stream.is_open())
        return fail("file.not_readable", "Cannot read " + path.string() + ".", "Check its permissions.");
    return text;
}

} // namespace touchmark
