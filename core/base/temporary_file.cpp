// SPDX-License-Identifier: MIT
#include "core/base/temporary_file.h"

#include <cstdlib>
#include <string>
#include <unistd.h>

namespace touchmark {

TemporaryFile::TemporaryFile() {
    std::string name = (std::filesystem::temp_directory_path() / "touchmark-XXXXXX").string();
    const int descriptor = ::mkstemp(name.data());
    if (descriptor < 0) return;
    ::close(descriptor);
    path_ = name;
}

TemporaryFile::~TemporaryFile() {
    std::error_code ignored;
    std::filesystem::remove(path_, ignored);
}

} // namespace touchmark
