// SPDX-License-Identifier: MIT
#include "app/window/finder.h"

#include "app/panels/look.h"

#include <QAction>
#include <QKeyEvent>
#include <QLineEdit>
#include <QListWidget>
#include <QMenu>
#include <QPainter>
#include <QRegularExpression>
#include <QStyledItemDelegate>
#include <QVBoxLayout>

namespace touchmark::window {
namespace {
using panels::grid;

constexpr int help_role = Qt::UserRole + 1, shortcut_role = Qt::UserRole + 2, action_role = Qt::UserRole + 3;

/// Title, what it does, and the shortcut at the right edge.
class RowPainter : public QStyledItemDelegate {
public:
    using QStyledItemDelegate::QStyledItemDelegate;
    [[nodiscard]] QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex&) const override {
        return {200, option.fontMetrics.height() + 2 * grid};
    }
    void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override {
        const QPalette& colours = option.palette;
        const bool chosen = option.state & QStyle::State_Selected, usable = index.flags() & Qt::ItemIsEnabled;
        if (chosen) {
            painter->fillRect(option.rect, colours.color(QPalette::AlternateBase));
            painter->fillRect(QRect(option.rect.left(), option.rect.top(), 3, option.rect.height()),
                              colours.color(QPalette::Highlight));
        }
        const QRect row = option.rect.adjusted(card, 0, -card, 0);
        const QString shortcut = index.data(shortcut_role).toString(), title = index.data(Qt::DisplayRole).toString();
        painter->setPen(colours.color(QPalette::PlaceholderText));
        painter->drawText(row, Qt::AlignRight | Qt::AlignVCenter, shortcut);
        const int shortcut_wide = shortcut.isEmpty() ? 0 : option.fontMetrics.horizontalAdvance(shortcut) + 2 * grid;
        painter->setPen(colours.color(usable ? QPalette::Active : QPalette::Disabled, QPalette::Text));
        painter->drawText(row, Qt::AlignLeft | Qt::AlignVCenter, title);
        const int left = option.fontMetrics.horizontalAdvance(title) + 2 * grid;
        const QRect rest = row.adjusted(left, 0, -shortcut_wide, 0);
        painter->setPen(colours.color(QPalette::PlaceholderText));
        painter->drawText(
            rest, Qt::AlignLeft | Qt::AlignVCenter,
            option.fontMetrics.elidedText(index.data(help_role).toString(), Qt::ElideRight, rest.width()));
    }

private:
    static constexpr int card = panels::card_inset;
};

QString plain(QString title) {
    return title.remove(u'&');
}

QString place_of(const QAction& action) {
    for (const QObject* object : action.associatedObjects())
        if (const auto* menu = qobject_cast<const QMenu*>(object)) return plain(menu->title());
    return {};
}

} // namespace

bool Finder::matches(const QString& typed, const QString& words) {
    static const QRegularExpression space(QStringLiteral("[^\\w]+"), QRegularExpression::UseUnicodePropertiesOption);
    const QStringList have = words.split(space, Qt::SkipEmptyParts);
    const QStringList wanted = typed.split(space, Qt::SkipEmptyParts);
    return std::ranges::all_of(wanted, [&](const QString& want) {
        return std::ranges::any_of(have,
                                   [&](const QString& word) { return word.startsWith(want, Qt::CaseInsensitive); });
    });
}

Finder::Finder(std::vector<QAction*> actions, QWidget* parent)
    : QDialog(parent, Qt::Popup | Qt::FramelessWindowHint), actions_(std::move(actions)), typed_(new QLineEdit(this)),
      list_(new QListWidget(this)) {
    setAccessibleName(tr("Find an action"));
    setAttribute(Qt::WA_DeleteOnClose);
    typed_->setPlaceholderText(tr("What do you want to do?"));
    typed_->setAccessibleName(tr("Find an action"));
    typed_->installEventFilter(this);
    list_->setAccessibleName(tr("Actions"));
    list_->setFrameShape(QFrame::NoFrame);
    list_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    list_->setItemDelegate(new RowPainter(list_));
    list_->setFocusPolicy(Qt::NoFocus);
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(panels::card_inset, panels::card_inset, panels::card_inset, panels::card_inset);
    layout->setSpacing(grid);
    layout->addWidget(typed_);
    layout->addWidget(list_);
    connect(typed_, &QLineEdit::textChanged, this, &Finder::narrow);
    connect(list_, &QListWidget::itemClicked, this, &Finder::trigger);
    const int wide = std::min(560, parent->width() - 4 * grid);
    setFixedWidth(wide);
    tallest_ = std::min(440, parent->height() - 14 * grid);
    narrow();
    move(parent->mapToGlobal(QPoint((parent->width() - wide) / 2, 6 * grid)));
    typed_->setFocus();
}

void Finder::narrow() {
    list_->clear();
    for (QAction* action : actions_) {
        const QString title = plain(action->text()), place = place_of(*action);
        const QString help = action->toolTip() == title ? QString() : action->toolTip();
        if (!matches(typed_->text(), title + u' ' + help + u' ' + place)) continue;
        auto* item = new QListWidgetItem(title, list_);
        item->setData(help_role, help.isEmpty() ? place : help);
        item->setData(shortcut_role, action->shortcut().toString(QKeySequence::NativeText));
        item->setData(action_role, QVariant::fromValue(action));
        if (!action->isEnabled()) item->setFlags(item->flags() & ~Qt::ItemIsEnabled);
    }
    if (list_->count() == 0) {
        auto* none = new QListWidgetItem(tr("Nothing is called that"), list_);
        none->setFlags(Qt::NoItemFlags);
    }
    fit();
    for (int i = 0; i < list_->count(); ++i)
        if (list_->item(i)->flags() & Qt::ItemIsEnabled) return list_->setCurrentRow(i);
}

void Finder::fit() {
    int height = 2;
    for (int i = 0; i < list_->count(); ++i)
        height += list_->sizeHintForRow(i);
    list_->setFixedHeight(std::min(height, tallest_));
    layout()->activate();
    setFixedHeight(sizeHint().height());
}

void Finder::trigger() {
    const QListWidgetItem* item = list_->currentItem();
    if (!item || !(item->flags() & Qt::ItemIsEnabled)) return;
    auto* action = item->data(action_role).value<QAction*>();
    close();
    action->trigger();
}

void Finder::paintEvent(QPaintEvent* event) {
    QDialog::paintEvent(event);
    QPainter painter(this); // the style sheet of a dialog draws no border
    painter.setPen(palette().color(QPalette::Midlight));
    painter.drawRect(rect().adjusted(0, 0, -1, -1));
}

bool Finder::eventFilter(QObject* watched, QEvent* event) {
    if (event->type() == QEvent::KeyPress) {
        const int key = static_cast<QKeyEvent*>(event)->key();
        if (key == Qt::Key_Return || key == Qt::Key_Enter) {
            trigger();
            return true;
        }
        if (key == Qt::Key_Up || key == Qt::Key_Down) {
            const int by = key == Qt::Key_Up ? -1 : 1;
            for (int row = list_->currentRow() + by; row >= 0 && row < list_->count(); row += by)
                if (list_->item(row)->flags() & Qt::ItemIsEnabled) {
                    list_->setCurrentRow(row);
                    break;
                }
            return true;
        }
    }
    return QDialog::eventFilter(watched, event);
}

} // namespace touchmark::window
