'use strict';

/**
 * Devices of a reader's choice, one above the other. The choice stands after # in the address, so that the address
 * opens it again. Each device's panel is a script of its own, which calls `comparing.take`; what it hands over is markup
 * that the site's templates made. Here it is only put in its place.
 */
const comparing = (() => {
  const MOST = 5;
  const START = '#devices=';
  const FOLDED = '#always details:not([open]), #differences details:not([open])';
  const find = (id) => document.getElementById(id);
  /** The tick box of each device of this catalogue by its id. Nothing else is ever loaded. */
  const boxes = new Map();
  /** What came of loading each panel: a promise of it, or of null where it could not be loaded. */
  const loading = new Map();
  const taken = new Map();
  const ownTitle = document.title;
  let chosen = [];
  let latest = 0;
  /** Which of the buttons that remove a device was pressed last, until the page without it is shown. */
  let focusAt = null;

  const nameOf = (id) => boxes.get(id).closest('label').querySelector('.name').textContent;

  /** Copy a template of the page and put names into its open places. */
  function fromTemplate(id, names = {}) {
    const copy = find(id).content.cloneNode(true);
    for (const [place, name] of Object.entries(names)) {
      copy.querySelector(`[data-${place}]`).textContent = name;
    }
    return copy.firstElementChild;
  }

  function filled(tag, markup) {
    const element = document.createElement(tag);
    element.innerHTML = markup;
    return element;
  }

  function load(id) {
    if (!loading.has(id)) {
      loading.set(id, new Promise((resolve) => {
        const script = document.createElement('script');
        script.src = `panels/${id}.js`;
        script.addEventListener('load', () => resolve(taken.get(id) ?? null));
        script.addEventListener('error', () => {
          // Asked for again when it is chosen again: what failed may have been the way to it.
          loading.delete(id);
          resolve(null);
        });
        document.head.append(script);
      }));
    }
    return loading.get(id);
  }

  /** Read the choice from the address; null where what stands after # is a place on the page. */
  function fromAddress() {
    if (location.hash !== '' && !location.hash.startsWith(START)) {
      return null;
    }
    const asked = new Set(location.hash.slice(START.length).split(',').map(decoded).filter((id) => id !== ''));
    const known = [...asked].filter((id) => boxes.has(id));
    return {
      chosen: known.slice(0, MOST),
      leftOut: known.slice(MOST),
      unknown: [...asked].filter((id) => !boxes.has(id)),
    };
  }

  function decoded(text) {
    try {
      return decodeURIComponent(text);
    } catch {
      return text;
    }
  }

  /** Write the choice into the address, as a step that the back button takes back. */
  const choose = (ids) => {
    location.hash = `devices=${ids.join(',')}`;
  };

  function say(...parts) {
    find('status').replaceChildren(...parts.flatMap((part) => [part, ' ']));
  }

  function listed(template, ids, name = (id) => id) {
    return ids.length === 0 ? [] : [fromTemplate(template, { names: ids.map(name).join(', ') })];
  }

  function put(part, panels, made) {
    document.querySelector(`[data-part="${part}"]`).replaceChildren(...panels.map(made));
  }

  function removeButton(id) {
    const button = fromTemplate('remove', { names: nameOf(id) });
    button.addEventListener('click', () => {
      focusAt = chosen.indexOf(id);
      choose(chosen.filter((each) => each !== id));
    });
    return button;
  }

  /** A button goes with its device: the focus moves to the next one's, or to where devices are chosen. */
  function moveFocus() {
    if (focusAt !== null) {
      const buttons = document.querySelectorAll('#short button');
      (buttons[Math.min(focusAt, buttons.length - 1)] ?? document.querySelector('#choices summary')).focus();
      focusAt = null;
    }
  }

  function showTable(panels) {
    document.querySelectorAll('.chosen tr').forEach((row) => {
      const cells = panels.map((panel) => {
        const fact = row.dataset.fact;
        const cell = filled(fact ? 'td' : 'th', fact ? panel.facts[fact] : panel.parts.column);
        if (!fact) {
          cell.scope = 'col';
        }
        return cell;
      });
      row.replaceChildren(row.firstElementChild, ...cells);
    });
  }

  /** Return what is said of two devices: by the comparisons that hold both, else why there is none. */
  function saidOf(one, other) {
    const pair = one.pairs[other.id] ?? other.pairs[one.id];
    if (pair) {
      return pair;
    }
    const never = one.neverCompared ?? other.neverCompared;
    const reason = never ?? (one.kind === other.kind ? one.notWithinKind : null);
    return {
      stated: false,
      inShort: reason ?? find('other-kind-in-short').innerHTML,
      said: reason ?? find('other-kind').innerHTML,
    };
  }

  /** The line near the top that leads to `entry`, whose place must not take that of the choice in the address. */
  function answerTo(entry, names, inShort) {
    const answer = fromTemplate('answer', names);
    answer.querySelector('[data-said]').innerHTML = inShort;
    const link = answer.querySelector('a');
    link.href = `#${entry.id}`;
    link.addEventListener('click', (event) => {
      event.preventDefault();
      entry.tabIndex = -1;
      entry.focus();
    });
    return answer;
  }

  function showPairs(panels) {
    const stated = [];
    const notStated = [];
    const answers = [];
    panels.forEach((one, place) => panels.slice(place + 1).forEach((other) => {
      const { stated: isStated, inShort, said } = saidOf(one, other);
      const names = { first: nameOf(one.id), second: nameOf(other.id) };
      const entry = fromTemplate(isStated ? 'pair' : 'no-pair', names);
      entry.id = `pair-${one.id}-${other.id}`;
      entry.querySelector('[data-said]').innerHTML = said;
      answers.push(answerTo(entry, names, inShort));
      (isStated ? stated : notStated).push(entry);
    }));
    find('stated').replaceChildren(...stated);
    find('not-stated').replaceChildren(...notStated);
    document.querySelector('#answers dl').replaceChildren(...answers);
    find('answers').hidden = panels.length < 2;
    find('differences').hidden = panels.length < 2;
  }

  function showTitle() {
    const names = chosen.map(nameOf);
    find('title').textContent = names.length ? names.join(' · ') : ownTitle.split(' · ')[0];
    document.title = names.length ? `${names.join(', ')} · ${ownTitle}` : ownTitle;
  }

  function showBoxes() {
    const full = chosen.length >= MOST;
    boxes.forEach((box, id) => {
      box.checked = chosen.includes(id);
      // Not `disabled`: a box that cannot be reached cannot say why.
      box.setAttribute('aria-disabled', String(full && !box.checked));
    });
  }

  async function show(asked) {
    const turn = latest += 1;
    chosen = asked.chosen;
    showBoxes();
    showTitle();
    const found = await Promise.all(chosen.map(load));
    if (turn !== latest) {
      return;
    }
    const panels = found.filter((panel) => panel !== null);
    put('short', panels, (panel) => {
      const entry = filled('li', panel.parts.short);
      entry.querySelector('.who').append(removeButton(panel.id));
      return entry;
    });
    put('fit', panels, (panel) => filled('li', panel.parts.fit));
    put('flow', panels, (panel) => filled('li', panel.parts.flow));
    showTable(panels);
    showPairs(panels);
    moveFocus();
    find('compared').hidden = panels.length === 0;
    const failed = chosen.filter((id, place) => found[place] === null);
    const how = ['says-none', 'says-one'][chosen.length];
    say(
      how ? fromTemplate(how) : fromTemplate('says-shown', { names: chosen.map(nameOf).join(', ') }),
      ...listed('says-unknown', asked.unknown),
      ...listed('says-left-out', asked.leftOut, nameOf),
      ...listed('says-failed', failed, nameOf),
    );
  }

  function readAddress() {
    const asked = fromAddress();
    if (asked !== null) {
      show(asked);
    }
  }

  function ticked(event) {
    const id = event.target.value;
    if (!event.target.checked) {
      choose(chosen.filter((each) => each !== id));
    } else if (chosen.length >= MOST) {
      event.target.checked = false;
      say(fromTemplate('says-full'));
    } else {
      choose([...chosen, id]);
    }
  }

  /** Open what is folded while the page is printed: what holds for every page must not be missing on paper. */
  function unfold(printing) {
    for (const folded of document.querySelectorAll(printing ? FOLDED : '[data-unfolded]')) {
      folded.open = printing;
      folded.toggleAttribute('data-unfolded', printing);
    }
  }

  document.querySelectorAll('#choices input').forEach((box) => {
    boxes.set(box.value, box);
    box.addEventListener('change', ticked);
  });
  // The way past the letterhead must not take the place of the choice in the address.
  document.querySelector('.skip').addEventListener('click', (event) => {
    event.preventDefault();
    const content = find('content');
    content.tabIndex = -1;
    content.focus();
  });
  find('needs-scripts').hidden = true;
  find('choosing').hidden = false;
  addEventListener('hashchange', readAddress);
  addEventListener('beforeprint', () => unfold(true));
  addEventListener('afterprint', () => unfold(false));

  return {
    /** Called by the script of a panel. */
    take: (panel) => taken.set(panel.id, panel),
    start: () => {
      readAddress();
      find('choices').open = chosen.length < 2;
    },
  };
})();

comparing.start();
