/**
 * Lets a reader search, filter and order the table of all devices, and tick some to compare.
 *
 * The page is whole without it. What rows are ordered and filtered by stands in their data attributes: `data-by-fit` is
 * a row's place in the column `fit`, and a row without a figure has none. Nothing is computed or worded here but how
 * many rows are shown. What was chosen stands after the # of the address, so that a link brings it back.
 */
(() => {
  'use strict';

  const MOST_PICKED = 5;
  const WRITE_AFTER = 200; // ms: browsers refuse to have the address changed at every key.
  const byId = (id) => document.getElementById(id);
  const table = byId('every-device');
  const heads = [...table.querySelectorAll('th[data-sort]')];
  const groups = [...table.tBodies];
  /** All rows in one body, for any order but that by kind. */
  const flat = document.createElement('tbody');
  const clear = byId('clear');

  /** The parts of the state that one control each holds, by their names in the address. */
  const fields = {
    search: byId('find-search'),
    kind: byId('find-kind'),
    supply: byId('find-supply'),
    power: byId('find-power'),
    wearers: byId('find-wearers'),
    price: byId('find-price'),
    currency: byId('find-currency'),
    sort: byId('find-sort'),
  };
  const down = byId('find-down');
  const filters = ['search', 'kind', 'supply', 'power', 'wearers', 'price'].filter((name) => fields[name]);
  /** Ids of the ticked devices, in the order in which they were ticked. */
  const picked = new Set();

  /** Make letters of all cases, with all accents, the same; marks of direction are left out. */
  const folded = (text) => text.normalize('NFD').replace(/[\p{M}\p{Cf}]/gu, '').toLowerCase();

  const rows = groups.flatMap((home) => {
    const kind = home.rows[0].textContent.trim();
    return [...home.rows].slice(1).map((element) => {
      const head = element.cells[0];
      const words = [head.querySelector('a'), head.querySelector('small')].map((part) => part.textContent);
      return { element, home, kind, data: element.dataset, name: words[0], text: folded([...words, kind].join(' ')) };
    });
  });
  const rowOf = new Map(rows.map((row) => [row.data.device, row]));

  /** Return a test of rows for each filter that is set. */
  function tests() {
    const value = (name) => (fields[name] ? fields[name].value.trim() : '');
    const found = [];
    const words = folded(value('search')).split(/\s+/).filter(Boolean);
    if (words.length) found.push((row) => words.every((word) => row.text.includes(word)));
    if (value('kind')) found.push((row) => row.home.id === value('kind'));
    if (value('supply')) found.push((row) => row.data.supply === value('supply'));
    if (value('power')) found.push((row) => ('powered' in row.home.dataset) === (value('power') === 'powered'));
    if (value('wearers')) found.push((row) => Number(row.data.wearers) >= Number(value('wearers')));
    if (value('price')) {
      found.push((row) => row.data.currency === value('currency') && Number(row.data.amount) <= Number(value('price')));
    }
    return found;
  }

  /** Return the rows in the order of a column; those without a place in it last, whichever way it runs. */
  function ordered(column, inReverse) {
    const places = rows.map((row) => [row, row.element.getAttribute(`data-by-${column}`)]);
    const placed = places.filter(([, place]) => place !== null).map(([row, place]) => [row, Number(place)]);
    placed.sort(([, one], [, other]) => (inReverse ? other - one : one - other));
    return [...placed, ...places.filter(([, place]) => place === null)].map(([row]) => row);
  }

  let standing = '';
  function order() {
    const column = fields.sort.value;
    down.disabled = !column;
    const wanted = column && `${column} ${down.checked}`;
    if (wanted !== standing) {
      standing = wanted;
      if (column) flat.append(...ordered(column, down.checked).map((row) => row.element));
      else rows.forEach((row) => row.home.append(row.element));
      table.classList.toggle('flat', Boolean(column));
      if (column) table.append(flat);
      else flat.remove();
    }
    heads.forEach((head) => {
      if (head.dataset.sort !== column) head.removeAttribute('aria-sort');
      else head.setAttribute('aria-sort', down.checked ? 'descending' : 'ascending');
    });
    const words = fields.sort.selectedOptions[0].dataset;
    byId('ordered').textContent = column && down.checked ? words.reversed : words.ordered;
  }

  function filter() {
    const all = tests();
    const filled = new Set();
    let count = 0;
    rows.forEach((row) => {
      const shown = all.every((test) => test(row));
      row.element.hidden = !shown;
      if (!shown) return;
      count += 1;
      filled.add(row.home);
    });
    groups.forEach((group) => { group.hidden = Boolean(fields.sort.value) || !filled.has(group); });
    clear.hidden = !all.length;
    if (byId('price-note')) byId('price-note').hidden = !fields.price.value;
    const told = count || !rows.length
      ? `${count} of ${rows.length} devices shown.`
      : 'Nothing matches: clear the filters, or change one.';
    if (byId('shown').textContent !== told) byId('shown').textContent = told;
  }

  /** Say which devices are ticked, and lead to where they stand side by side. */
  function showPicked() {
    const full = picked.size >= MOST_PICKED;
    rows.forEach((row) => {
      const isPicked = picked.has(row.data.device);
      const says = full && !isPicked ? `Compare: ${MOST_PICKED} at most` : 'Compare';
      row.box.checked = isPicked;
      if (row.says.textContent === says) return;
      row.says.textContent = says;
      row.box.setAttribute('aria-disabled', String(full && !isPicked));
    });
    const link = byId('picked-compare');
    byId('picked').hidden = !picked.size;
    byId('picked-names').textContent = [...picked].map((device) => rowOf.get(device).name).join(', ');
    if (picked.size > 1) {
      link.href = `compare.html#devices=${[...picked].join(',')}`;
      link.textContent = `Compare ${picked.size} devices`;
    } else {
      link.removeAttribute('href');
      link.textContent = 'Tick one more to compare.';
    }
  }

  /** Return the state as it stands in an address, such as `kind=loose-powered-hood&sort=fit&down=1`. */
  function written() {
    const state = new URLSearchParams();
    Object.entries(fields).forEach(([name, field]) => {
      if (!field || !field.value.trim() || (name === 'currency' && !fields.price.value)) return;
      state.set(name, field.value.trim());
    });
    if (fields.sort.value && down.checked) state.set('down', '1');
    if (picked.size) state.set('devices', [...picked].join(','));
    return state.toString().replaceAll('%2C', ',');
  }

  let waiting = 0;
  function writeLater() {
    clearTimeout(waiting);
    waiting = setTimeout(() => {
      const state = written();
      if (state === location.hash.slice(1)) return;
      try {
        history.replaceState(null, '', state ? `#${state}` : location.href.split('#')[0]);
      } catch {
        location.replace(`#${state || 'kind='}`); // Some browsers keep the history of files from being changed.
      }
    }, WRITE_AFTER);
  }

  /** Set the controls by the address. What it names and the page does not have is passed over. */
  function read() {
    const state = new URLSearchParams(location.hash.slice(1));
    Object.entries(fields).forEach(([name, field]) => {
      if (!field) return;
      const wanted = state.get(name) ?? '';
      const has = field.options ? [...field.options].some((option) => option.value === wanted) : true;
      if (has) field.value = wanted; // A number field takes nothing but a number.
      else field.selectedIndex = 0;
    });
    down.checked = state.get('down') === '1';
    picked.clear();
    (state.get('devices') ?? '').split(',').filter((device) => rowOf.has(device)).forEach((device) => {
      if (picked.size < MOST_PICKED) picked.add(device);
    });
    order();
    filter();
    showPicked();
  }

  function changed() {
    order();
    filter();
    writeLater();
  }

  function addSortButton(head) {
    const button = document.createElement('button');
    button.type = 'button';
    button.textContent = head.textContent;
    button.title = [...fields.sort.options].find((option) => option.value === head.dataset.sort).dataset.ordered;
    button.addEventListener('click', () => {
      const again = fields.sort.value === head.dataset.sort;
      // In order, then in reverse, then by kind as before.
      fields.sort.value = again && down.checked ? '' : head.dataset.sort;
      down.checked = again && !down.checked;
      changed();
    });
    head.replaceChildren(button);
  }

  function addBox(row) {
    const label = document.createElement('label');
    const name = document.createElement('span');
    row.box = document.createElement('input');
    row.says = document.createElement('span');
    label.className = 'pick';
    row.box.type = 'checkbox';
    name.className = 'hidden';
    name.textContent = ` ${row.name}`;
    label.append(row.box, row.says, name);
    const kind = document.createElement('small');
    kind.className = 'of-kind';
    kind.textContent = row.kind;
    row.element.cells[0].append(kind, label);
    row.box.addEventListener('change', () => {
      // The box of a sixth device stays empty, and its label says why.
      if (row.box.checked && picked.size < MOST_PICKED) picked.add(row.data.device);
      else picked.delete(row.data.device);
      showPicked();
      writeLater();
    });
  }

  heads.forEach(addSortButton);
  rows.forEach(addBox);
  Object.values(fields).forEach((field) => { if (field) field.addEventListener('input', changed); });
  down.addEventListener('input', changed);
  clear.addEventListener('click', () => {
    filters.forEach((name) => { fields[name].value = ''; });
    changed();
    fields.search.focus();
  });
  byId('picked-clear').addEventListener('click', () => {
    const first = rowOf.get([...picked][0]);
    picked.clear();
    showPicked();
    writeLater();
    (first.element.hidden ? fields.search : first.box).focus();
  });
  // A plain fragment, such as that of a heading, is no state: it only scrolls.
  addEventListener('hashchange', () => { if (!location.hash || location.hash.includes('=')) read(); });
  byId('finder').hidden = false;
  read();
})();
