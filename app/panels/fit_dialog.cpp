// SPDX-License-Identifier: MIT
#include "app/panels/fit_dialog.h"

#include "app/panels/combo.h"
#include "app/panels/strip_chart.h"
#include "core/fitting/own_profile.h"
#include "core/fitting/sentences.h"

#include <QCheckBox>
#include <QFileDialog>
#include <QFileInfo>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QLineEdit>
#include <QProgressBar>
#include <QPushButton>
#include <QSignalBlocker>
#include <QVBoxLayout>

namespace touchmark::panels {
namespace {

constexpr int left_width = 344, scale_width = 144;

QVBoxLayout* column_in(Card* card) {
    auto* layout = new QVBoxLayout(card);
    layout->setContentsMargins(card_inset, card_inset, card_inset, card_inset);
    layout->setSpacing(grid);
    card->setFocusPolicy(Qt::NoFocus);
    return layout;
}

QLabel* head(const QString& said, QWidget* parent) {
    auto* label = new QLabel(said, parent);
    label->setFont(strong_font(*label));
    label->setTextFormat(Qt::PlainText);
    return label;
}

QLabel* quiet(const QString& said, QWidget* parent) {
    auto* label = wrapping_label(parent);
    make_quiet(*label);
    label->setText(said);
    return label;
}

QPushButton* button(const QString& said, const QString& help, QWidget* parent) {
    auto* made = new QPushButton(said, parent);
    made->setAutoDefault(false);
    made->setToolTip(help);
    return made;
}

} // namespace

FitDialog::FitDialog(session::Session& session, session::ProfileShelf& shelf, QWidget* parent)
    : QDialog(parent), session_(session), shelf_(shelf), work_(new StripWork(session, this)),
      processes_(new Combo(this)), left_(new CardColumn(this)), right_(new CardColumn(this)),
      save_(button(tr("Save strip …"), tr("A STEP part to be printed, and beside it the sheet to fill in"), this)),
      open_(button(tr("Open sheet …"), tr("As you filled it in; commas, semicolons or tabs"), this)),
      keep_(button(tr("Save as own profile"), tr("It can be chosen at once, and changed or removed later"), this)),
      use_(button(tr("Use it for this job"), tr("The job's marks are judged by it; undo takes it back"), this)),
      stop_(button(tr("Stop"), tr("Nothing is changed"), this)), name_(new QLineEdit(this)),
      limits_(new QCheckBox(tr("Limits for strokes and gaps too"), this)), message_(wrapping_label(this)),
      heading_(wrapping_label(this)), doing_(new QLabel(this)), chart_head_(head(tr("Strokes and gaps"), this)),
      busy_(new QWidget(this)), progress_(new QProgressBar(this)), chart_(new StripChart(this)),
      said_(wrapping_label(this)) {
    setWindowTitle(tr("Fit to prints"));
    setAccessibleName(windowTitle());
    setMinimumSize(840, 480);
    resize(1080, 640);
    build();
    connect(work_, &StripWork::moved, this, &FitDialog::refresh_work);
    connect(work_, &StripWork::found_anew, this, &FitDialog::refresh_found);
    connect(work_, &StripWork::told, this, &FitDialog::say);
    connect(work_, &StripWork::failed, this,
            [this](const Error& error) { say(text(error.message) + u' ' + text(error.hint)); });
    connect(&shelf_, &session::ProfileShelf::changed, this, &FitDialog::fill_processes);
    connect(processes_, &QComboBox::currentIndexChanged, this, [this] {
        say({});
        work_->forget();
    });
    connect(save_, &QPushButton::clicked, this, [this] {
        const process::Process* of = process();
        const QString wanted = folder_ + (of ? tr("strip-%1.step").arg(text(of->id)) : QString());
        const QString file =
            QFileDialog::getSaveFileName(this, tr("Where the strip goes"), wanted, tr("STEP (*.step)"));
        if (!file.isEmpty()) save_strip(file);
    });
    connect(open_, &QPushButton::clicked, this, [this] {
        const QString file = QFileDialog::getOpenFileName(this, tr("Choose the sheet"), folder_,
                                                          tr("Sheets (*.csv *.txt *.tsv);;All files (*)"));
        if (!file.isEmpty()) open_sheet(file);
    });
    connect(keep_, &QPushButton::clicked, this, &FitDialog::keep);
    connect(use_, &QPushButton::clicked, this, [this] { emit use_asked(kept_); });
    connect(&session_, &session::Session::changed, this, [this](session::Changes changes) {
        if (changes & (session::Change::job | session::Change::part)) refresh_work();
    });
    connect(stop_, &QPushButton::clicked, work_, &StripWork::cancel);
    connect(name_, &QLineEdit::textChanged, this, &FitDialog::refresh_work);
    fill_processes();
    refresh_found();
}

void FitDialog::build() {
    left_->setFixedWidth(left_width);
    const auto put = [](CardColumn* column, QWidget* widget) { // before the stretch at its end
        column->cards().insertWidget(column->cards().count() - 1, widget);
    };
    for (Card* card : {strip_card(), sheet_card(), own_card()})
        put(left_, card);
    auto* busy = new QHBoxLayout(busy_);
    busy->setContentsMargins(0, 0, 0, 0);
    progress_->setTextVisible(false);
    progress_->setRange(0, 100);
    busy->addWidget(doing_);
    busy->addWidget(progress_, 1);
    busy->addWidget(stop_);
    message_->hide();
    figures_ = figures_card();
    strokes_ = new Card(this);
    auto* strokes = column_in(strokes_);
    strokes->addWidget(chart_head_);
    strokes->addWidget(chart_);
    notes_ = new Card(this);
    column_in(notes_)->addWidget(said_);
    for (QWidget* widget :
         {static_cast<QWidget*>(message_), busy_, static_cast<QWidget*>(heading_), static_cast<QWidget*>(figures_),
          static_cast<QWidget*>(strokes_), static_cast<QWidget*>(notes_)})
        put(right_, widget);
    auto* layout = new QHBoxLayout(this);
    layout->setContentsMargins(card_inset, card_inset, card_inset, card_inset);
    layout->setSpacing(card_inset);
    layout->addWidget(left_);
    layout->addWidget(right_, 1);
}

Card* FitDialog::strip_card() {
    auto* card = new Card(this);
    auto* layout = column_in(card);
    layout->addWidget(head(tr("1  Print the strip"), card));
    layout->addWidget(processes_);
    processes_->setAccessibleName(tr("Profile that the strip is for"));
    processes_->setToolTip(tr("The strip's sizes go with its line width, and the fit begins from its figures"));
    layout->addWidget(quiet(tr("Strokes, gaps, text and codes from too small to safe, on wall, top and bottom, and a "
                               "wedge to be held against a light. Print it with the settings you print parts with; "
                               "several strips tell more than one."),
                            card));
    layout->addWidget(save_, 0, Qt::AlignLeft);
    return card;
}

Card* FitDialog::sheet_card() {
    auto* card = new Card(this);
    auto* layout = column_in(card);
    layout->addWidget(head(tr("2  Fill in the sheet"), card));
    layout->addWidget(
        quiet(tr("In any spreadsheet: what came out, how wide it is, how much light each step of the wedge "
                 "lets through. What you did not look at stays empty."),
              card));
    layout->addWidget(open_, 0, Qt::AlignLeft);
    return card;
}

Card* FitDialog::own_card() {
    auto* card = new Card(this);
    auto* layout = column_in(card);
    layout->addWidget(head(tr("3  Keep it"), card));
    name_->setPlaceholderText(tr("Name, as Hall 2, printer 7"));
    name_->setAccessibleName(tr("Name of the profile"));
    layout->addWidget(name_);
    limits_->setToolTip(
        tr("Will not print where half come out, safe where 19 of 20 do, for each series that shows both. "
           "Otherwise findings keep their limits, and only the simulated print changes."));
    layout->addWidget(limits_);
    auto* buttons = new QHBoxLayout;
    buttons->addWidget(keep_);
    buttons->addWidget(use_);
    buttons->addStretch();
    layout->addLayout(buttons);
    return card;
}

Card* FitDialog::figures_card() {
    auto* card = new Card(this);
    auto* layout = column_in(card);
    table_ = new QGridLayout;
    table_->setHorizontalSpacing(2 * grid);
    table_->setVerticalSpacing(grid);
    table_->setColumnStretch(3, 1);
    layout->addLayout(table_);
    return card;
}

void FitDialog::fill_processes() {
    const process::Process* now = process();
    const std::string chosen = now ? now->id : session_.process().id;
    const QSignalBlocker quietly(processes_);
    processes_->clear();
    for (const process::Profile& profile : shelf_.profiles().all) {
        if (!profile.process.printing) continue; // nothing to fit
        processes_->addItem(text(profile.process.title), text(profile.process.id));
        if (profile.process.id == chosen) processes_->setCurrentIndex(processes_->count() - 1);
    }
}

const process::Process* FitDialog::process() const {
    const process::Profile* found = shelf_.find(processes_->currentData().toString().toStdString());
    return found ? &found->process : nullptr;
}

void FitDialog::showEvent(QShowEvent* event) {
    QDialog::showEvent(event);
    if (work_->found() || work_->busy()) return;
    const int own = processes_->findData(text(session_.process().id)); // the job's
    if (own >= 0) processes_->setCurrentIndex(own);
}

void FitDialog::save_strip(const QString& file) {
    say({});
    folder_ = QFileInfo(file).path() + u'/';
    if (const process::Process* of = process()) work_->save_strip(*of, file);
}

void FitDialog::open_sheet(const QString& file) {
    say({});
    folder_ = QFileInfo(file).path() + u'/';
    if (const process::Process* of = process()) work_->fit(*of, file);
}

void FitDialog::keep() {
    if (!work_->found()) return;
    const fitting::Limits limits = limits_->isChecked() ? fitting::Limits::by_strip : fitting::Limits::stay;
    const auto id =
        shelf_.add(fitting::own_profile(work_->found()->fit, name_->text().trimmed().toStdString(), limits));
    if (!id) return say(text(id.error().message) + u' ' + text(id.error().hint));
    say(tr("%1 is kept. It can be chosen in the header, and changed under Part, Process profiles.")
            .arg(name_->text().trimmed()));
    kept_ = *id;
    name_->clear();
    refresh_work();
}

void FitDialog::say(const QString& message) {
    message_->setText(message);
    message_->setVisible(!message.isEmpty());
    if (!message.isEmpty()) right_->bring_into_view(message_);
}

void FitDialog::refresh_work() {
    const bool busy = work_->busy();
    busy_->setVisible(busy);
    doing_->setText(work_->doing());
    progress_->setRange(0, work_->fraction() < 0 ? 0 : 100);
    progress_->setValue(static_cast<int>(100 * std::max(0.0, work_->fraction())));
    save_->setEnabled(!busy && process());
    open_->setEnabled(!busy && process());
    const auto& found = work_->found();
    const bool fitted =
        found && (std::ranges::any_of(found->fit.figures, [](const auto& one) { return one.value.has_value(); }));
    keep_->setEnabled(fitted && !name_->text().trimmed().isEmpty());
    name_->setEnabled(fitted);
    use_->setVisible(session_.part() && !kept_.empty() && session_.process().id != kept_ && shelf_.find(kept_));
    limits_->setEnabled(fitted);
}

void FitDialog::refresh_found() {
    const auto& found = work_->found();
    for (QWidget* widget :
         {static_cast<QWidget*>(figures_), static_cast<QWidget*>(strokes_), static_cast<QWidget*>(notes_)})
        widget->setVisible(found.has_value());
    if (!found) {
        heading_->setText(
            tr("What your printer makes of a line, a first layer, a thin stroke and a light is not known until "
               "it has printed a strip. Here stands what its sheet says."));
        return refresh_work();
    }
    heading_->setText(tr("%1 makes of %2:").arg(QFileInfo(found->file).fileName(), text(found->fit.base.title)));
    for (std::size_t i = 0; i < found->fit.figures.size(); ++i) {
        if (rows_.size() <= i) {
            FigureRow row{head({}, figures_), new QLabel(figures_), quiet({}, figures_), new IntervalScale(figures_)};
            row.change->setFont(figures_font(row.change->font()));
            row.scale->setFixedWidth(scale_width);
            const int at = static_cast<int>(i);
            table_->addWidget(row.title, at, 0, Qt::AlignVCenter);
            table_->addWidget(row.change, at, 1, Qt::AlignVCenter);
            table_->addWidget(row.scale, at, 2, Qt::AlignVCenter);
            table_->addWidget(row.grounds, at, 3, Qt::AlignVCenter);
            rows_.push_back(row);
        }
        const fitting::FittedFigure& figure = found->fit.figures[i];
        rows_[i].title->setText(text(figure.title));
        rows_[i].change->setText(text(fitting::change_text(figure)));
        rows_[i].grounds->setText(text(fitting::grounds_text(figure)));
        rows_[i].scale->show_figure(figure);
    }
    chart_->show_findings(*found);
    strokes_->setVisible(!chart_->isHidden());
    QStringList said;
    if (found->outlook) {
        QStringList lines(text(fitting::outlook_text(*found->outlook)));
        for (const std::string& one : fitting::surprises(*found->outlook, found->items))
            lines += text(one);
        said += lines.join(u'\n');
    }
    said += text(fitting::scatter_text(found->fit));
    said += text(fitting::wedge_text(found->fit));
    for (const std::string& note : found->fit.notes)
        said += text(note);
    said.removeAll(QString());
    said_->setText(said.join(QStringLiteral("\n\n")));
    notes_->setVisible(!said.isEmpty());
    if (name_->text().isEmpty() || name_->text() == named_) {
        named_ = text(shelf_.free_title(tr("%1, as printed here").arg(text(found->fit.base.title)).toStdString()));
        name_->setText(named_);
    }
    refresh_work();
}

} // namespace touchmark::panels
