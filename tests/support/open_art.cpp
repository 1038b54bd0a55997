// SPDX-License-Identifier: MIT
#include "tests/support/open_art.h"

#include "tests/support/scratch_folder.h"

#include <algorithm>
#include <cstdlib>
#include <png.h>
#include <stdexcept>

namespace touchmark::test {

std::vector<std::filesystem::path> open_art(std::string_view set) {
    const char* folder = std::getenv("TOUCHMARK_OPEN_ART");
    if (!folder) throw std::runtime_error("TOUCHMARK_OPEN_ART is not set: run the tests through ./tests/run");
    std::vector<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::directory_iterator(std::filesystem::path(folder) / set))
        files.push_back(entry.path());
    if (files.empty()) throw std::runtime_error("the open set of drawings is empty");
    std::ranges::sort(files);
    return files;
}

double rendered_area(const std::filesystem::path& svg, double page_mm, int pixels) {
    const ScratchFolder scratch;
    const std::string picture = (scratch / "picture.png").string();
    const std::string command =
        "rsvg-convert -w " + std::to_string(pixels) + " -o '" + picture + "' '" + svg.string() + "'";
    if (std::system(command.c_str()) != 0) throw std::runtime_error("rsvg-convert failed on " + svg.string());
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    if (!png_image_begin_read_from_file(&image, picture.c_str())) throw std::runtime_error("no picture");
    image.format = PNG_FORMAT_RGBA;
    std::vector<png_byte> bytes(PNG_IMAGE_SIZE(image));
    if (!png_image_finish_read(&image, nullptr, bytes.data(), 0, nullptr)) throw std::runtime_error("a broken picture");
    double covered = 0;
    for (std::size_t i = 3; i < bytes.size(); i += 4)
        covered += bytes[i];
    const double pixel = page_mm / image.width;
    return covered / 255 * pixel * pixel;
}

} // namespace touchmark::test
