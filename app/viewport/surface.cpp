// SPDX-License-Identifier: MIT
#include "app/viewport/surface.h"

#include <QGuiApplication>
#include <QOffscreenSurface>
#include <QOpenGLContext>

namespace touchmark::viewport {
namespace {

bool windows_have_opengl() {
    const QString platform = QGuiApplication::platformName();
    if (platform == QLatin1String("offscreen") || platform == QLatin1String("minimal") ||
        platform == QLatin1String("vnc") || platform == QLatin1String("linuxfb"))
        return false;
    QSurfaceFormat format;
    format.setRenderableType(QSurfaceFormat::OpenGL);
    format.setVersion(3, 2);
    format.setProfile(QSurfaceFormat::CoreProfile);
    QOpenGLContext context;
    context.setFormat(format);
    if (!context.create()) return false;
    QOffscreenSurface surface;
    surface.setFormat(context.format());
    surface.create();
    return context.makeCurrent(&surface) && context.format().version() >= qMakePair(3, 2);
}

} // namespace

std::unique_ptr<Surface> make_surface(QWidget* parent) {
    const QByteArray wish = qgetenv("TOUCHMARK_VIEWPORT");
    static const bool composed = wish == "gl" || (wish != "raster" && windows_have_opengl());
    return composed ? make_gl_surface(parent) : make_raster_surface(parent);
}

} // namespace touchmark::viewport
