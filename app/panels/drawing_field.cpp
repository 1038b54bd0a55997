// SPDX-License-Identifier: MIT
#include "app/panels/drawing_field.h"

#include "core/content/drawing.h"

#include <QApplication>
#include <QClipboard>
#include <QDropEvent>
#include <QFile>
#include <QFileDialog>
#include <QFileInfo>
#include <QKeyEvent>
#include <QMimeData>
#include <QUrl>

namespace touchmark::panels {

DrawingField::DrawingField(QWidget* parent) : QPushButton(parent) {
    setAcceptDrops(true);
    setCursor(Qt::PointingHandCursor);
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
    connect(this, &QPushButton::clicked, this, &DrawingField::choose);
    set_name({});
}

void DrawingField::set_name(const QString& name) {
    const QString shown = name.isEmpty() ? tr("Choose a drawing …") : name;
    setText(fontMetrics().elidedText(shown, Qt::ElideMiddle, 180).replace(u'&', QStringLiteral("&&")));
}

bool DrawingField::takes(const QMimeData& carried) {
    if (carried.hasFormat(QStringLiteral("image/svg+xml"))) return true;
    for (const QUrl& url : carried.urls()) {
        const QString suffix = QFileInfo(url.toLocalFile()).suffix().toLower();
        if (suffix == u"svg" || suffix == u"dxf") return true;
    }
    const QString text = carried.text().left(2000).trimmed();
    return text.startsWith(u'<') && text.contains(u"<svg");
}

void DrawingField::take(const QMimeData& carried) {
    for (const QUrl& url : carried.urls())
        if (url.isLocalFile()) return read(url.toLocalFile());
    if (carried.hasFormat(QStringLiteral("image/svg+xml")))
        emit chosen(tr("Pasted drawing"), carried.data(QStringLiteral("image/svg+xml")));
    else if (takes(carried))
        emit chosen(tr("Pasted drawing"), carried.text().toUtf8());
    else
        emit trouble(tr("What was pasted is no drawing; copy an SVG or DXF file, or SVG text."));
}

void DrawingField::choose() {
    const QString file =
        QFileDialog::getOpenFileName(this, tr("Choose a drawing"), {}, tr("Drawings (*.svg *.dxf);;All files (*)"));
    if (!file.isEmpty()) read(file);
}

void DrawingField::read(const QString& file) {
    QFile opened(file);
    if (!opened.open(QIODevice::ReadOnly))
        return emit trouble(tr("%1 cannot be read.").arg(QFileInfo(file).fileName()));
    if (opened.size() > static_cast<qint64>(2 * content::largest_drawing))
        return emit trouble(tr("%1 is too large for a drawing.").arg(QFileInfo(file).fileName()));
    emit chosen(QFileInfo(file).fileName(), opened.readAll());
}

void DrawingField::dragEnterEvent(QDragEnterEvent* event) {
    if (takes(*event->mimeData())) event->acceptProposedAction();
}

void DrawingField::dropEvent(QDropEvent* event) {
    event->acceptProposedAction();
    take(*event->mimeData());
}

void DrawingField::keyPressEvent(QKeyEvent* event) {
    if (event->matches(QKeySequence::Paste))
        take(*QApplication::clipboard()->mimeData());
    else
        QPushButton::keyPressEvent(event);
}

} // namespace touchmark::panels
