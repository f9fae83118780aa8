package sqlite

import (
	"container/list"
	"sync"

	"strutcard/server/shop"
	"strutcard/sync/event"
)

// cachedLogs bounds the decoded logs kept in memory: about 1 kB per event.
const cachedLogs = 64

type logKey struct {
	shop shop.ID
	job  event.JobID
}

// jobLog is a job's decoded events in order of arrival, up to pos.
type jobLog struct {
	key    logKey
	pos    int64
	events []event.Event
}

// logCache keeps the logs of the jobs that were written last: a phone that sends
// one event at a time would otherwise have its whole job decoded each time. A log
// only grows until it is deleted as a whole, so what is kept is never wrong, only short.
type logCache struct {
	max int

	mu    sync.Mutex
	order *list.List // of jobLog, last used first
	at    map[logKey]*list.Element
}

func newLogCache(limit int) *logCache {
	return &logCache{max: limit, order: list.New(), at: map[logKey]*list.Element{}}
}

func (c *logCache) get(key logKey) jobLog {
	c.mu.Lock()
	defer c.mu.Unlock()
	if el, ok := c.at[key]; ok {
		c.order.MoveToFront(el)
		return el.Value.(jobLog)
	}
	return jobLog{key: key}
}

// keep takes in logs that are committed.
func (c *logCache) keep(logs []jobLog) {
	c.mu.Lock()
	defer c.mu.Unlock()
	for _, l := range logs {
		if el, ok := c.at[l.key]; ok {
			if el.Value.(jobLog).pos < l.pos {
				el.Value = l
			}
			c.order.MoveToFront(el)
			continue
		}
		c.at[l.key] = c.order.PushFront(l)
		if c.order.Len() > c.max {
			oldest := c.order.Remove(c.order.Back()).(jobLog)
			delete(c.at, oldest.key)
		}
	}
}

// drop forgets a log that was deleted. One that is put back by a write under way
// is never looked at again.
func (c *logCache) drop(key logKey) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if el, ok := c.at[key]; ok {
		c.order.Remove(el)
		delete(c.at, key)
	}
}

// with returns the log with later events added, sharing nothing that another
// reader could append to.
func (l jobLog) with(later []event.Event, pos int64) jobLog {
	l.events = append(l.events[:len(l.events):len(l.events)], later...)
	l.pos = pos
	return l
}
