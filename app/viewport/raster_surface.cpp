// SPDX-License-Identifier: MIT
#include "app/viewport/pixel_buffer.h"
#include "app/viewport/surface.h"

#include <QElapsedTimer>
#include <QPainter>
#include <QResizeEvent>
#include <cmath>

namespace touchmark::viewport {
namespace {

/// Works with any of Qt's platforms, also with none that has OpenGL. What is painted above it costs no drawing here.
class RasterSurface final : public QWidget, public Surface {
public:
    explicit RasterSurface(QWidget* parent) : QWidget(parent) {
        setAttribute(Qt::WA_OpaquePaintEvent);
        setAttribute(Qt::WA_TransparentForMouseEvents);
    }

    QWidget& widget() override { return *this; }
    VtkHost& host() override { return buffer_.host(); }
    bool works() const override { return buffer_.works(); }

    void refresh() override {
        stale_ = true;
        update();
    }

    QImage grab() override {
        if (works()) bring_up_to_date();
        return image_;
    }

protected:
    void resizeEvent(QResizeEvent*) override { stale_ = true; }

    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        if (!works()) {
            painter.fillRect(rect(), palette().window());
            painter.setPen(palette().color(QPalette::WindowText));
            painter.drawText(rect().adjusted(16, 16, -16, -16), Qt::AlignCenter | Qt::TextWordWrap,
                             tr("The part cannot be drawn: this machine has no OpenGL.\n"
                                "Installing libegl1 and libgl1-mesa-dri gives it a software one."));
            return;
        }
        bring_up_to_date();
        painter.drawImage(QPointF(0, 0), image_);
    }

private:
    void bring_up_to_date() {
        const double ratio = devicePixelRatioF();
        const QSize wanted(std::max(1, static_cast<int>(std::lround(width() * ratio))),
                           std::max(1, static_cast<int>(std::lround(height() * ratio))));
        if (!stale_ && image_.size() == wanted) return;
        QElapsedTimer timer;
        timer.start();
        if (buffer_.host().width() != wanted.width() || buffer_.host().height() != wanted.height())
            buffer_.host().resize(wanted.width(), wanted.height());
        stale_ = false;
        if (before_frame) before_frame();
        image_ = {}; // else drawing would copy it first
        image_ = buffer_.draw();
        image_.setDevicePixelRatio(ratio);
        if (after_frame) after_frame(static_cast<double>(timer.nsecsElapsed()) * 1e-6);
    }

    PixelBuffer buffer_;
    QImage image_;
    bool stale_ = true;
};

} // namespace

std::unique_ptr<Surface> make_raster_surface(QWidget* parent) {
    return std::make_unique<RasterSurface>(parent);
}

} // namespace touchmark::viewport
