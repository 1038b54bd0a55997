// SPDX-License-Identifier: MIT
#include "app/panels/profile_dialog.h"

#include "app/panels/combo.h"
#include "app/panels/figure_card.h"
#include "app/panels/figure_ledger.h"
#include "app/panels/look.h"
#include "app/panels/profile_groups.h"

#include <QHBoxLayout>
#include <QLineEdit>
#include <QListWidget>
#include <QPainter>
#include <QPushButton>
#include <QStyle>
#include <QStyledItemDelegate>
#include <QVBoxLayout>
#include <algorithm>

namespace touchmark::panels {
namespace {

using process::Origin;

constexpr int list_width = 256, card_width = 304, id_role = Qt::UserRole + 1, used_role = Qt::UserRole + 2;

QString about(const process::Profile& profile) {
    const QString material = text(profile.process.material), id = text(profile.process.id);
    const QString base = text(profile.based_on);
    switch (profile.origin) {
    case Origin::own:
        return base.isEmpty() ? QObject::tr("%1 · your own").arg(id)
                              : QObject::tr("%1 · your own, stands on %2 · %3").arg(id, base, material);
    case Origin::composed:
        return QObject::tr("%1 · comes along, %2 with a material · %3").arg(id, base, material);
    case Origin::built_in:
        return QObject::tr("%1 · comes along · %2").arg(id, material);
    }
    return {};
}

/// "Extrusion, 0.4 mm nozzle, PETG" → "Own 0.4 mm nozzle, PETG".
QString own_title(const std::string& of) {
    QString rest = text(of);
    for (const QString& start : {QObject::tr("Extrusion, "), QObject::tr("Own ")})
        if (rest.startsWith(start)) rest.remove(0, start.size());
    return QObject::tr("Own %1").arg(rest);
}

/// A group's heading, or a profile: the one that the job uses in bold.
class ProfilePainter : public QStyledItemDelegate {
public:
    using QStyledItemDelegate::QStyledItemDelegate;

    [[nodiscard]] QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override {
        const bool heading = index.data(id_role).isNull();
        return {100, option.fontMetrics.height() + (heading ? grid : grid - 2)};
    }
    void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override {
        const QPalette& colours = option.palette;
        const bool heading = index.data(id_role).isNull();
        painter->save();
        if (option.state & QStyle::State_Selected) {
            painter->fillRect(option.rect, colours.color(QPalette::AlternateBase));
            painter->fillRect(QRect(option.rect.left(), option.rect.top(), 3, option.rect.height()), accent());
        }
        QFont font = option.font;
        if (heading || index.data(used_role).toBool()) font.setWeight(QFont::DemiBold);
        painter->setFont(font);
        painter->setPen(colours.color(QPalette::Active, heading ? QPalette::PlaceholderText : QPalette::Text));
        const QRect row = option.rect.adjusted(card_inset, 0, -grid, 0);
        painter->drawText(
            row, Qt::AlignLeft | (heading ? Qt::AlignBottom : Qt::AlignVCenter),
            QFontMetrics(font).elidedText(index.data(Qt::DisplayRole).toString(), Qt::ElideRight, row.width()));
        painter->restore();
    }
};

} // namespace

ProfileDialog::ProfileDialog(session::Session& session, session::ProfileShelf& shelf, QWidget* parent)
    : QDialog(parent), session_(session), shelf_(shelf), id_(session.process().id), list_(new QListWidget(this)),
      title_(new QLineEdit(this)), filter_(new QLineEdit(this)), about_(wrapping_label(this)),
      message_(wrapping_label(this)), show_(new Combo(this)), ledger_(new FigureLedger(this)),
      card_(new FigureCard(this)), use_(new QPushButton(tr("Use for this job"), this)),
      own_(new QPushButton(tr("New from this"), this)), remove_(new QPushButton(tr("Delete"), this)),
      bring_back_(new QPushButton(tr("Bring it back"), this)), message_row_(new QWidget(this)) {
    setWindowTitle(tr("Process profiles"));
    setAccessibleName(tr("Process profiles"));
    setMinimumSize(920, 480);
    resize(1120, 640);
    build();
    connect(&shelf_, &session::ProfileShelf::changed, this, [this] {
        if (!shelf_.find(id_)) id_ = session_.process().id;
        refresh_list();
        refresh_profile();
    });
    connect(&session_, &session::Session::changed, this, [this](session::Changes changes) {
        if (changes & (session::Change::part | session::Change::job)) refresh_list();
    });
    refresh_list();
    refresh_profile();
    QStringList left_out;
    for (const process::LeftOut& one : shelf_.profiles().left_out)
        left_out += tr("%1: %2").arg(text(one.file.filename().string()), text(one.error.message));
    if (!left_out.isEmpty()) say(tr("Left out, for they cannot be used: %1").arg(left_out.join(QStringLiteral(" · "))));
}

void ProfileDialog::build() {
    auto* columns = new QHBoxLayout;
    columns->setSpacing(card_inset);
    columns->addWidget(build_list());
    columns->addWidget(build_middle(), 1);
    auto* right = new CardColumn(this);
    right->setFixedWidth(card_width);
    right->cards().insertWidget(0, card_);
    columns->addWidget(right);
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(card_inset, card_inset, card_inset, card_inset);
    layout->setSpacing(grid);
    auto* said = new QHBoxLayout(message_row_);
    said->setContentsMargins(grid, 0, grid, 0);
    said->addWidget(message_, 1);
    bring_back_->setProperty("look", "link");
    bring_back_->setAutoDefault(false);
    said->addWidget(bring_back_);
    connect(bring_back_, &QPushButton::clicked, this, &ProfileDialog::bring_back);
    layout->addWidget(message_row_);
    layout->addLayout(columns, 1);
    say({});
    connect(card_, &FigureCard::keep_asked, this, &ProfileDialog::keep);
    connect(card_, &FigureCard::keep_wedge_asked, this, &ProfileDialog::keep_wedge);
    connect(card_, &FigureCard::back_asked, this, &ProfileDialog::back);
    connect(ledger_, &FigureLedger::figure_chosen, this, &ProfileDialog::refresh_figure);
}

QWidget* ProfileDialog::build_list() {
    auto* column = new QWidget(this);
    column->setFixedWidth(list_width);
    list_->setAccessibleName(tr("Profiles"));
    list_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    list_->setItemDelegate(new ProfilePainter(list_));
    list_->setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
    connect(list_, &QListWidget::currentItemChanged, this, [this](QListWidgetItem* item) {
        if (filling_ || !item) return;
        say({});
        id_ = item->data(id_role).toString().toStdString();
        refresh_profile();
    });
    own_->setToolTip(tr("A profile of your own that stands on this one and begins with all of its figures"));
    remove_->setToolTip(tr("Deletes its file; it can be brought back at once"));
    for (QPushButton* button : {own_, remove_})
        button->setAutoDefault(false);
    connect(own_, &QPushButton::clicked, this, &ProfileDialog::make_own);
    connect(remove_, &QPushButton::clicked, this, &ProfileDialog::remove);
    auto* buttons = new QHBoxLayout;
    buttons->setSpacing(grid);
    buttons->addWidget(own_);
    buttons->addWidget(remove_);
    buttons->addStretch();
    auto* layout = new QVBoxLayout(column);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(grid);
    layout->addWidget(list_, 1);
    layout->addLayout(buttons);
    return column;
}

QWidget* ProfileDialog::build_middle() {
    auto* column = new QWidget(this);
    title_->setFont(strong_font(*title_));
    title_->setAccessibleName(tr("Name of the profile"));
    connect(title_, &QLineEdit::editingFinished, this, &ProfileDialog::rename);
    make_quiet(*about_);
    use_->setAutoDefault(false);
    use_->setToolTip(tr("The job that is open is judged by this profile from then on"));
    connect(use_, &QPushButton::clicked, this, [this] { emit use_asked(id_); });
    filter_->setPlaceholderText(tr("Find a figure: stroke, top, sag, published …"));
    filter_->setAccessibleName(tr("Find a figure"));
    filter_->setClearButtonEnabled(true);
    show_->setAccessibleName(tr("Which figures"));
    show_->addItems({tr("All figures"), tr("Assumed only"), tr("Other than the base")});
    show_->setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
    show_->setMinimumWidth(176);
    const auto narrow = [this] {
        ledger_->narrow(filter_->text(), static_cast<FigureLedger::Show>(show_->currentIndex()));
    };
    connect(filter_, &QLineEdit::textChanged, this, narrow);
    connect(show_, &QComboBox::currentIndexChanged, this, narrow);
    auto* head = new QHBoxLayout;
    head->setSpacing(grid);
    head->addWidget(title_, 1);
    head->addWidget(use_);
    auto* finding = new QHBoxLayout;
    finding->setSpacing(grid);
    finding->addWidget(filter_, 1);
    finding->addWidget(show_);
    auto* layout = new QVBoxLayout(column);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(grid);
    layout->addLayout(head);
    layout->addWidget(about_);
    layout->addLayout(finding);
    layout->addWidget(ledger_, 1);
    return column;
}

const process::Profile& ProfileDialog::profile() const {
    const process::Profile* found = shelf_.find(id_);
    return found ? *found : shelf_.profiles().all.front();
}

const process::Process* ProfileDialog::base() const {
    const process::Profile* found = shelf_.find(profile().based_on);
    return found ? &found->process : nullptr;
}

void ProfileDialog::showEvent(QShowEvent* event) {
    QDialog::showEvent(event);
    for (QListWidget* list : {list_, static_cast<QListWidget*>(ledger_)}) { // only now they know how tall they are
        list->scrollToTop();
        if (list->currentItem()) list->scrollToItem(list->currentItem());
    }
}

void ProfileDialog::show_profile(const std::string& id) {
    if (shelf_.find(id)) id_ = id;
    refresh_list();
    refresh_profile();
}

void ProfileDialog::refresh_list() {
    filling_ = true;
    list_->clear();
    QListWidgetItem* chosen = nullptr;
    std::vector<ProfileGroup> groups = grouped(shelf_.profiles());
    std::ranges::stable_partition(groups, &ProfileGroup::own); // at hand where they are worked on
    for (const ProfileGroup& group : groups) {
        auto* heading = new QListWidgetItem(group.title, list_);
        heading->setFlags(Qt::NoItemFlags);
        for (const GroupedProfile& one : group.profiles) {
            const process::Process& process = one.profile->process;
            const bool used = session_.part() && session_.job().process == process.id;
            auto* item = new QListWidgetItem(one.title, list_);
            item->setData(id_role, text(process.id));
            item->setData(used_role, used);
            item->setData(Qt::AccessibleTextRole, text(process.title));
            item->setToolTip(used ? tr("%1: the open job is judged by it").arg(text(process.title))
                                  : text(process.title));
            if (process.id == id_) chosen = item;
        }
    }
    if (chosen) {
        list_->setCurrentItem(chosen);
        list_->scrollToItem(chosen);
    }
    filling_ = false;
    const bool used = session_.job().process == id_;
    use_->setEnabled(session_.part() && !used);
    use_->setText(session_.part() && used ? tr("Used for this job") : tr("Use for this job"));
}

void ProfileDialog::refresh_profile() {
    const process::Profile& one = profile();
    const bool own = shelf_.editable(id_);
    title_->setText(text(one.process.title));
    title_->setCursorPosition(0);
    title_->setReadOnly(!own);
    title_->style()->unpolish(title_); // how it looks depends on it
    title_->style()->polish(title_);
    title_->setToolTip(own ? tr("Type to rename it") : QString());
    about_->setText(about(one));
    remove_->setEnabled(one.origin == Origin::own);
    const bool used = session_.job().process == id_;
    use_->setEnabled(session_.part() && !used);
    use_->setText(session_.part() && used ? tr("Used for this job") : tr("Use for this job"));
    ledger_->show_profile(one.process, base());
}

void ProfileDialog::refresh_figure() {
    const std::string key = ledger_->chosen();
    if (key.empty()) return card_->show_nothing();
    card_->show_figure(key, profile().process, base(), shelf_.editable(id_));
}

process::Derivation ProfileDialog::derivation() const {
    if (shelf_.editable(id_)) return *profile().differs;
    return {.title = shelf_.free_title(own_title(profile().process.title).toStdString()),
            .based_on = id_,
            .material = {},
            .figures = {},
            .wedge = {},
            .wedge_source = {}};
}

void ProfileDialog::store(const process::Derivation& derivation, const QString& done) {
    if (shelf_.editable(id_)) {
        if (const Status kept = shelf_.change(id_, derivation); !kept)
            return say(text(kept.error().message) + u' ' + text(kept.error().hint));
        return say(done);
    }
    const auto id = shelf_.add(derivation);
    if (!id) return say(text(id.error().message) + u' ' + text(id.error().hint));
    show_profile(*id);
    say(tr("Kept in a profile of your own, %1. Use it for the job to be judged by it.").arg(text(derivation.title)));
}

void ProfileDialog::keep(const process::Adjustment& adjustment) {
    process::Derivation next = derivation();
    const auto at = std::ranges::find(next.figures, adjustment.key, &process::Adjustment::key);
    if (at == next.figures.end())
        next.figures.push_back(adjustment);
    else
        at->figure = adjustment.figure;
    store(next, {});
}

void ProfileDialog::keep_wedge(const std::vector<process::WedgeStep>& steps, const std::string& source) {
    process::Derivation next = derivation();
    next.wedge = steps;
    next.wedge_source = source;
    store(next, {});
}

void ProfileDialog::back(const std::string& key) {
    process::Derivation next = derivation();
    if (key == wedge_key) {
        next.wedge.clear();
        next.wedge_source.clear();
    }
    std::erase_if(next.figures, [&](const process::Adjustment& one) { return one.key == key; });
    store(next, {});
}

void ProfileDialog::make_own() {
    process::Derivation next;
    next.title = shelf_.free_title(own_title(profile().process.title).toStdString());
    next.based_on = id_;
    const auto id = shelf_.add(next);
    if (!id) return say(text(id.error().message) + u' ' + text(id.error().hint));
    show_profile(*id);
    title_->setFocus(Qt::OtherFocusReason);
    title_->selectAll();
}

void ProfileDialog::rename() {
    const QString title = title_->text().simplified();
    if (!shelf_.editable(id_) || title == text(profile().process.title)) return;
    if (title.isEmpty()) return title_->setText(text(profile().process.title));
    if (const Status done = shelf_.rename(id_, title.toStdString()); !done)
        say(text(done.error().message) + u' ' + text(done.error().hint));
}

void ProfileDialog::remove() {
    const process::Profile gone = profile();
    if (gone.origin != Origin::own) return;
    if (session_.part() && session_.job().process == gone.process.id)
        emit use_asked(gone.based_on.empty() ? job::Job().process : gone.based_on);
    id_ = gone.based_on;
    if (const Status done = shelf_.remove(gone.process.id); !done) {
        show_profile(gone.process.id);
        return say(text(done.error().message) + u' ' + text(done.error().hint));
    }
    say(tr("Deleted %1.").arg(text(gone.process.title)), true);
}

void ProfileDialog::bring_back() {
    const auto id = shelf_.bring_back();
    if (!id) return say(text(id.error().message) + u' ' + text(id.error().hint));
    show_profile(*id);
    say({});
}

void ProfileDialog::say(const QString& message, bool offer_back) {
    message_->setText(message);
    message_row_->setVisible(!message.isEmpty());
    bring_back_->setVisible(offer_back);
}

} // namespace touchmark::panels
