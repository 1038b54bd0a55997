// SPDX-License-Identifier: MIT
#include "app/viewport/save_picture.h"

#include <QImage>

namespace touchmark::viewport {

Status save_picture(const print::Picture& picture, const std::filesystem::path& file) {
    const QImage image(reinterpret_cast<const uchar*>(picture.pixels.data()), picture.width, picture.height,
                       3 * picture.width, QImage::Format_RGB888);
    if (!image.save(QString::fromStdString(file.string()), "PNG"))
        return fail("file.not_writable", "Cannot write " + file.string() + ".",
                    "Check the folder and its permissions.");
    return {};
}

} // namespace touchmark::viewport
