// Opens this phone's store while the client's script is still on its way. One that is not there yet, the client makes.
try {
  const asked = indexedDB.open("easelside");
  asked.onupgradeneeded = () => asked.transaction.abort();
  window.begun = new Promise((done) => {
    asked.onsuccess = () => {
      const db = asked.result;
      db.onversionchange = () => db.close();
      done(db);
    };
    asked.onerror = () => done(null);
  });
} catch {
  // no store in this browser: the client says so
}
// The first of all formats is slow to make: while nothing else can be done yet.
new Intl.DateTimeFormat();
