"""Asks the X window with the number given to close, as a window manager does; prints when, seconds since the epoch."""

import ctypes
import sys
import time

x = ctypes.CDLL("libX11.so.6")
x.XOpenDisplay.restype = ctypes.c_void_p
x.XInternAtom.restype = ctypes.c_ulong


class Message(ctypes.Structure):
    _fields_ = [
        ("type", ctypes.c_int),
        ("serial", ctypes.c_ulong),
        ("sent", ctypes.c_int),
        ("display", ctypes.c_void_p),
        ("window", ctypes.c_ulong),
        ("kind", ctypes.c_ulong),
        ("format", ctypes.c_int),
        ("data", ctypes.c_long * 5),
    ]


class Event(ctypes.Union):
    _fields_ = [("message", Message), ("room", ctypes.c_long * 24)]


display = ctypes.c_void_p(x.XOpenDisplay(None))
window = int(sys.argv[1])
event = Event()
event.message.type = 33  # ClientMessage
event.message.window = window
event.message.kind = x.XInternAtom(display, b"WM_PROTOCOLS", 0)
event.message.format = 32
event.message.data[0] = x.XInternAtom(display, b"WM_DELETE_WINDOW", 0)
x.XSendEvent(display, ctypes.c_ulong(window), 0, ctypes.c_long(0), ctypes.byref(event))
x.XSync(display, 0)
print(time.time())
