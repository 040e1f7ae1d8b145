<?php
// instants.php FILE... - each event of each file as Sabre VObject reads it: FILE UID START END, in
// UTC seconds. Zones are PHP's own, by their names.
error_reporting(E_ALL & ~E_DEPRECATED); // the library is older than this PHP
date_default_timezone_set('Pacific/Chatham'); // what a floating time would be read in: noticed
require 'Sabre/VObject/autoload.php';

foreach (array_slice($argv, 1) as $file) {
    $calendar = Sabre\VObject\Reader::read(file_get_contents($file));
    foreach ($calendar->select('VEVENT') as $event) {
        $start = $event->DTSTART->getDateTime()->getTimestamp();
        $end = $event->DTEND->getDateTime()->getTimestamp();
        echo "$file {$event->UID} $start $end\n";
    }
}
